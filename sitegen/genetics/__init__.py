"""Heredity, exact: loci, gametes, pedigrees, elimination and crosses; no files, no sentences."""
