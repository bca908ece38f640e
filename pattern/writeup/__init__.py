"""The pattern on paper, as it was made."""
