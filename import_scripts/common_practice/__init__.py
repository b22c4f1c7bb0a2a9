"""What growers commonly do, and what is remembered: our own words, never presented as cited."""
