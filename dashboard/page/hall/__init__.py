"""The page for a room: ``told`` (what it says), ``forms`` (what a tab shows there), ``days`` (my slate), ``dress``, ``view``. Its script is ``hall.js``."""
