"""Box and chains: spools, set-ups, board."""
