"""The warp sheet."""
