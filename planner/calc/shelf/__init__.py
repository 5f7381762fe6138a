"""A warp against the shelf."""
