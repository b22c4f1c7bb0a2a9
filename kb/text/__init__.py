"""Turtle texts read and written, strictly and canonically."""
