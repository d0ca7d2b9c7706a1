"""Sheets as somebody keeps them, read into a trial: asked about once, and every filled cell accounted for.

In order: ``pages`` and ``blocks`` find the tables, ``roles`` and ``layouts`` what their columns may be, ``questions`` what has to be
known, ``mapping`` keeps the answers; ``rows``, ``facts``, ``standing`` and ``joined`` read, ``ledger`` and ``aside`` say what became of
each cell, ``incoming`` is the whole, ``command`` the command.
"""
