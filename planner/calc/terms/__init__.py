"""Brief, plan and the rules every calculator shares."""
