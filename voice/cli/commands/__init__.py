"""The commands: one module each, with `add_arguments` and `run`."""
