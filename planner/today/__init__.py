"""Today and search: the pages that read from every package."""
