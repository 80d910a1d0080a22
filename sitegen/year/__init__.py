"""What a keeper's own records foretell: when young are due, how animals grow, how often pairings take."""
