"""Benchmarks: each figure beside a named baseline of the same run. ``make benchmarks`` prints them."""
