"""What changes records: new ones, changed ones, buyers' papers and spreadsheets, in and out."""
