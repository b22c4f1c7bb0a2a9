"""Nitrogen fixation (Werner et al. 2014) and support and woodiness (Taseski et al. 2019)."""
