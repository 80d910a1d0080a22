"""The only way in for the breeder's files: a bounded walk, and YAML text to a tree that knows its places."""
