"""Yarn coming in: photo, weight, bin first, the yarn later."""
