"""One plant grown on the ground after another."""
