"""Warps in the database."""
