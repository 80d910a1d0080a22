"""Where records meet heredity: what is known of each animal, because of what, since when, and what may be claimed."""
