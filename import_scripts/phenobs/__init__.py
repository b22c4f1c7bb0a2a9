"""Leaf season in botanical gardens (Nordt et al. 2021)."""
