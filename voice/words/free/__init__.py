"""Words that no phrase of the table holds, matched to what the table can mean."""
