"""When plants grow where they stand: climate, frost, heat and cold, sowing, and the weeks of a crop."""
