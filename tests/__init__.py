"""Tests and benchmarks; like the program, none of them reports."""

import voice  # noqa: F401
