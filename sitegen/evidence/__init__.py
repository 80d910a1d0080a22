"""Where records meet genetics: what is known of each animal at each locus, and because of what."""
