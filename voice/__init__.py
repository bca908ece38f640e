"""Turns words and sound into commands for a piece, and its answers into words and sound."""

import os

# ONNX Runtime reports to its maker, and keeps an identity of the machine for it, unless it finds
# this when it is imported; whatever imports it comes through here, or is a child of what did.
os.environ["ORT_DISABLE_TELEMETRY"] = "1"
