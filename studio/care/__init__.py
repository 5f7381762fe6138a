"""Check lists, faults and upkeep of looms."""
