"""Adapts the net Moonshine tiny to rooms and to this program's phrases: how its half that hears was
made. What it needs stands in DEVELOPERS.md ("What the net has learnt"); nothing of it is needed to
use the program.
"""
