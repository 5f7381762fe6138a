"""Who has which loom: reservations, hours at class warps, the waiting list."""
