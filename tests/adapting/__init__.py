"""Adapts the net Moonshine tiny to rooms and to this program's phrases: how its half that hears was
made. Needs torch, transformers, onnx and av, and Debian's voices and telephone prompts; nothing of
it is needed to use the program.
"""
