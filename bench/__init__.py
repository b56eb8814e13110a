"""Measures how quick the program is: `python -m bench [--json]`."""
