"""Tests, benchmarks and the adapting of the net; like the program, none of them reports."""

import voice  # noqa: F401
