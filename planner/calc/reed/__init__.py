"""Reed, sley order and threading."""
