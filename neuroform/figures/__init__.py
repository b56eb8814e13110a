"""Geometry of drawings: numbers in, shapes out."""
