"""One typed model for each kind of page: all that a template can see."""
