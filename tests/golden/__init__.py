"""Journals and conversations as they were kept once: they must read the same for ever.

`python -m tests.golden` writes what they mean now beside them, after a change that was wanted.
The journals of versions 1 to 3 were written by the program of that time; never write them anew.
"""
