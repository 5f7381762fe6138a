"""What races of several processes share."""

PATIENCE = 900
"""Seconds that a writer may take on a busy computer; on a quiet one all are done in a few."""
