"""The plants of the knowledge base: who they are, and what they are called."""
