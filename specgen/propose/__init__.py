"""Whole walls from facts: what is open is searched, what is left is assessed as any project, nothing is judged twice."""
