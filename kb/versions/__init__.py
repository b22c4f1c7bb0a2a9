"""Two versions of the knowledge base held against each other."""
