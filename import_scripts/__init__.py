"""From published sources to records."""
