"""Tests of the list of speech models, of fetching one, and of the command for both."""
