"""Natural wordings written by people who had not seen the table of phrases.

A line in brackets names the place, and a phrase of the table that means the same as the lines
below it: `-` for an explanation that no phrase gives, `none` for what is meant for somebody else.
`looked_at.txt` was looked at while rules were set, and is learnt from; `kept_apart.txt` was not.
"""
