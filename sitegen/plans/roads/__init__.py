"""What a project's road to its goal is expected to give, season by season, and what it has given so far."""
