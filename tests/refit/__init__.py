"""Fits the row of who is suppressed again: ``python -m tests.refit FILE``."""
