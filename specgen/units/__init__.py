"""Quantities as the trade writes them: read, convert, print. Imports nothing else of specgen."""
