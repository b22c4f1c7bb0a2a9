"""Pests, diseases and what plants give off: who is a host, what two share, what kin lend."""
