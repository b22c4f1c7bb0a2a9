"""Freezing tolerance of tissues (Bennett et al. 2018)."""
