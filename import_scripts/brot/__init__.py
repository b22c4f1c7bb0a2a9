"""Traits of Mediterranean plants (Tavsanoglu and Pausas 2018)."""
