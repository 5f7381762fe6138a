"""Every movement of yarn, and what is set aside."""
