"""Files, numbers and names that a person gives, read within bounds."""
