"""Searches for cautions, found or not: the importer ``searches``."""
