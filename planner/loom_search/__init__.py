"""Find a loom for a warp."""
