"""The brief: its fields, its document, its form."""
