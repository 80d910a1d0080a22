"""One file for each kind of page: its model, which is all that a template can see, and how it is made."""
