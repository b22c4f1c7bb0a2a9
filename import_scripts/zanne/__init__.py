"""Leaf habit and woodiness (Zanne et al. 2014)."""
