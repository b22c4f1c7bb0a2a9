"""Genus to family (Pennell et al. 2016)."""
