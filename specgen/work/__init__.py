"""The work that every door asks for: a project and its papers read, held against each other, written."""
