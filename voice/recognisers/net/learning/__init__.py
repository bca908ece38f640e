"""Adapts the net Moonshine tiny to rooms and to this program's phrases, and teaches it letters: how
its half that hears was made. What that needs stands in DEVELOPERS.md ("What the net has learnt");
nothing of it is needed to use the program.
"""
