"""The stress and limits of plants that share ground, before words."""
