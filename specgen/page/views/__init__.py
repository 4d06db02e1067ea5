"""The views of the page, one module each; ROUTES of each are gathered by the application."""
