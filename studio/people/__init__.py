"""Members: sign-in, settings, keys for other programs, briefings."""
