"""From a photograph on disk to the pictures a page shows."""
