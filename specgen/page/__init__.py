"""The page: a second way into the same model, in the browser of this machine alone."""
