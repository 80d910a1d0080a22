"""What the breeder wrote, typed, checked and cross-checked."""
