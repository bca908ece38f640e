"""The page beside the maker: what was said last, the round, and how far, in a browser."""
