"""Heredity, exact: loci, gametes, pedigrees and crosses; no files, no sentences."""
