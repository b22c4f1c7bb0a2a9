"""Warnings that are common knowledge and that no open source at hand gives: ours, from memory."""
