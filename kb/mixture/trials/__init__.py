"""Predictions held against measured trials."""
