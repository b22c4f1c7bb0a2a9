"""What is on record, what is missing, and what to look up next."""
