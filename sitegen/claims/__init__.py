"""What may be said of an animal, as data; no sentence yet."""
