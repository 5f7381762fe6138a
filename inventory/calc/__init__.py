"""Sums of the yarn room, without Django."""
