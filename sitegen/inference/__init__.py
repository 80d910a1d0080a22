"""Exact elimination over named variables; it has never heard of animals."""
