"""Structured examination of balance and legs: form, missing findings, reading, signed note."""

__version__ = "0.1.0"
