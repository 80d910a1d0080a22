"""What is expected of a pairing."""
