"""Sections, depth, turns and leaders."""
