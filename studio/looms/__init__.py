"""The register of looms, beams, reeds and stations."""
