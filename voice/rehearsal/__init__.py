"""A whole hat without a sound card."""
