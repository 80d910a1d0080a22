"""The written form of each kind of file, field by field; the JSON Schemas for editors come from it."""
