"""Measured side by side, printed as tables: nothing here is a test, and no bar here turns the suite red."""
