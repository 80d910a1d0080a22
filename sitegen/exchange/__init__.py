"""Sheets in and out: rows of a spreadsheet become records, and the collection becomes a spreadsheet."""
