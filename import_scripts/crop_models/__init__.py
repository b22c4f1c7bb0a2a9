"""Rooting limits of crop models: parameters, not observations."""
