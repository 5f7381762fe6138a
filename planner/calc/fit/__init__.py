"""Whether a loom can take it, in remarks."""
