"""The yarn room as people see it: yarns, packages, colours, bins."""
