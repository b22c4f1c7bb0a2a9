"""SHACL shapes and checks, shipped as data."""
