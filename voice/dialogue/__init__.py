"""Who speaks when."""
