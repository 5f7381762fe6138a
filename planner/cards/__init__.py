"""Warping cards."""
