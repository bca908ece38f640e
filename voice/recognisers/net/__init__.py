"""The net that hears, in its two looks: the text that it writes, and the letters that it tells."""
