"""Pages of the house. Each view finds, asks its door, binds a form, calls one deed, answers."""
