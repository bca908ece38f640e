"""All that can be said: the table of phrases, its grammar, spoken numbers, and free wording."""
