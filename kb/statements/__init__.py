"""What is said beside records: observations, searches, enemies and hosts, and what sources advise."""
