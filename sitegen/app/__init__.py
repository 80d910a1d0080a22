"""What a keeper starts: commands, the console, the preview."""
