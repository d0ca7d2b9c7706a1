"""Answers that leave the building."""
