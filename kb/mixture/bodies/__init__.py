"""What plants do with their bodies: grow, spread, climb, and are dug, picked or cut."""
