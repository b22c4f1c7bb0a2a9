"""The computation: what plants that share ground take from and give to each other.

Pure functions on frozen dataclasses and numpy arrays. No RDF, no files, no HTTP.
"""
