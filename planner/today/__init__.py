"""Today and search: the pages that see the whole house."""
