"""Turn a snake keeper's records and photographs into a static site whose every genetic claim is computed."""

__version__ = "0.1.0"
