"""Clonal growth of the Central European flora (Klimesova et al. 2017)."""
