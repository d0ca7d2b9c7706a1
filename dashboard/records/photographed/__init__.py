"""Photographs of a folder brought to their samples. ``codes.py``: what is read from a picture; ``owners.py``: whose it is;
``taking.py``: a whole folder; ``keeping.py``: copies and the sheet that is imported; ``command.py``: the command."""
