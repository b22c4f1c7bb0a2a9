"""What the profile of a plant is made of: adopted values, and what stands in for a missing one."""
