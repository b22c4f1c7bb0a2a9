"""Answers in words: a pair, a follow-on, a planting, each with its reasons and records."""
