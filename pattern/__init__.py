"""Plans a crocheted hat, learns the maker's gauge and keeps the place; pure."""
