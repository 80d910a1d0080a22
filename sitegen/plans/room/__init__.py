"""The plan for the whole room: which pairings this season, by playing the seasons that follow."""
