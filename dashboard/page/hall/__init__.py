"""The page for a room: ``told`` (what it says), ``dress``, ``view``."""
