"""Crop tables of FAO Irrigation and Drainage Paper 56."""
