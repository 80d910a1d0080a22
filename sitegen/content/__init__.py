"""The keeper's folder: read once, to records that know their places, and written by one writer."""
