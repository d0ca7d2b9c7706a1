"""The page for a room: ``told`` (what it says), ``forms`` (what a tab shows there), ``keys`` (what each of them answers), ``limits`` and ``two``
(what keys move and name), ``names``, ``picture`` (its own), ``days`` (my slate), ``dress``, ``view``. Its script is ``hall.js``."""
