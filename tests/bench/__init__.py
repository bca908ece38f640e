"""Benchmarks: speed, memory and accuracy, printed as tables; never part of the test run."""
