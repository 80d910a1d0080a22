"""The site while it is written: watched, made again where a change touches it, and served to this machine alone."""
