"""A warp's yarn: shelf, account, wanted list."""
