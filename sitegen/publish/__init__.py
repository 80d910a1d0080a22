"""Puts a finished site in place in one step, and never touches what it did not make."""
