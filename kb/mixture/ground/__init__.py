"""Roots, water and nitrogen in the ground, and how they are shared out."""
