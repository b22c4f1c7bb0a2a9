"""The knowledge base: records, their sources, adopted values and the computation on them."""
