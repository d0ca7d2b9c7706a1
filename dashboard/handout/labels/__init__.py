"""Sheets of labels for the samples of one site and day. ``grid.py``: where labels stand on paper; ``printed.py``: what stands on one;
``command.py``: the command."""
