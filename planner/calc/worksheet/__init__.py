"""The order of the bench: every calculator in its place."""
