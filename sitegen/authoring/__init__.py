"""Adds and changes records for the breeder: as small as possible, shown first if wished, whole or not at all."""
