"""A plan in words, drawings and data."""
