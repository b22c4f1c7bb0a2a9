"""Drawings as SVG: pure functions from parts of an answer to a drawing and its equal table."""
