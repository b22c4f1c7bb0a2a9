"""Shapes and checks: whether a record, a graph or a whole folder is sound."""
