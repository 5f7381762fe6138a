"""Private calendars for other programs."""
