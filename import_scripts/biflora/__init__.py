"""The vascular plants of Britain and Ireland (Henniges et al. 2022)."""
