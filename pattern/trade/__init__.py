"""Lengths, published tables, heads, hooks, yarns and fibres."""
