"""One blueprint per resource."""
