"""Indicator and trait values of the Swedish flora (Tyler et al. 2021)."""
