"""The shapes that can be made, their geometry, and one round on paper."""
