"""The studio's own rules and tolerances."""
