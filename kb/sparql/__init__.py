"""Questions in SPARQL, for other tools: read only, in a process of their own, off the hot path."""
