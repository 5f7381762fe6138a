"""What members are told, on Today and by mail."""
