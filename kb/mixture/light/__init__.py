"""Where light comes from and what a canopy, a hedge or a tree leaves of it."""
