"""The net that hears, in its two looks: what it writes, and the letters it tells."""
