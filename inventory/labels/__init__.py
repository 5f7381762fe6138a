"""Yarn labels on sheets."""
