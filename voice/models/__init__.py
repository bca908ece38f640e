"""Which speech models there are, and how one is fetched."""
