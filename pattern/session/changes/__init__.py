"""How each event changes the state: a table of changes a theme, as the events have them."""
