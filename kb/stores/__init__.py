"""Where a store's files lie, how they are written so that nothing is half done, and what is kept of them."""
