"""Measured outcomes of plants grown together, read from a table."""
