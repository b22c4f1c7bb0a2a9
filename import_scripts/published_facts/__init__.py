"""Published facts compiled for this project: rooting, size and season, cautions."""
