"""Depths measured on a beam."""
