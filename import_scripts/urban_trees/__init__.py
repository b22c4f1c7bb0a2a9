"""Sizes of street and park trees (McPherson et al. 2016)."""
