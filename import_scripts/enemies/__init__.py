"""Named pests and diseases with their hosts, and lists of plants near walnuts (our compilations)."""
