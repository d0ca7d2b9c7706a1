"""Sheets as somebody keeps them, read into a trial: asked about once, and every filled cell accounted for.

Pages of ours (``own``, ``bench``, ``ours``) need no question and are joined by ``merged``. For others ``pages``, ``captions``, ``blocks``
and ``beside`` find the tables, ``across`` takes those with days across apart, ``roles``, ``titles``, ``layouts`` and ``taken_over`` what their columns may be, ``questions``, ``naming`` and ``instruments`` what has to be
known (``day_lines`` of days, ``made_of`` of names that became days), ``grouped`` and ``together`` which of it one answer may hold for, ``first_days`` whether it can be of the trial, ``terminal`` asks, ``mapping`` keeps the
answers; ``rows``, ``figures``, ``forms``, ``values``, ``numbered_twice``, ``facts``, ``standing`` and ``joined`` read. ``doubts`` looks for another gauge, scale or year (``by_person``, ``unit_parts``, ``scale_doubt``, ``year_doubt``); ``rescaled`` says what was brought onto another scale. ``ledger`` and ``aside`` say what became of
each cell; what ``differs`` from the trial, ``as_written`` there, is replaced where somebody said that it is ``right``, and ``changed`` logs it. ``records/all_or_none`` writes, ``incoming`` is the
whole, ``outcome`` what is told of it, ``command`` the command.
"""
