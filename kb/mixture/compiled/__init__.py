"""Loops that numba compiles, each the twin of a plain one elsewhere; `kernels` alone loads them."""
