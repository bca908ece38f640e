"""The estimate of this maker's gauge, from readings of the piece."""
