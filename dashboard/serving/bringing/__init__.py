"""Bringing records in by the server, where it was started so: who may come in, and the pages on which sheets are dropped, asked about and kept.

In this order: ``password`` and ``sessions`` (who is let in), ``work`` (what is done beside the server), ``room`` (what all pages share),
``frame`` (what they look like), ``door`` (the handler they stand on), ``asking`` (questions as a form), ``told`` (a tray as a page), ``home``,
``bench`` (what is sent from a bench page), ``pages``, ``routes``. These are plain pages with forms: they need no websocket, and a keyboard or a screen reader is enough.
"""
