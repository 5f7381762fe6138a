"""From the wanted cloth to ends, length and yarn."""
