"""Reads files, numbers and names that a person gives, within limits."""
