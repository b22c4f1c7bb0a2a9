"""Cautions read one by one, and the searches that led to them or to nothing: ``read-cautions``."""
