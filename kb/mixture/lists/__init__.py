"""Many plants beside one, or under one tree: bounds, order, and what would be worth knowing."""
