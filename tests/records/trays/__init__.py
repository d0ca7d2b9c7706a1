"""Sheets on their way in: nothing lost, nothing mixed, nothing guessed."""
