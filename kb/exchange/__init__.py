"""Handing the data out, and the tables and terms that reading it back in shares."""
