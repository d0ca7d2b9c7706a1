"""One question and its answer.

``expected_windows`` and ``catalogue`` are all that the records say, worked out once and shared; ``question`` asks it (read this one twice). In between, from the
top: ``facts`` (of somebody's own table), ``choosing`` (what a choice is), ``chill_choices``, ``choices`` (all there are), ``brought`` (what a notebook adds), ``dossier``, ``among`` (one among all), ``growing``, ``side_by_side``, ``filters``, ``covering``, ``class_weeks``, ``prospects``, ``standing``, ``accounts``, ``stand_ins``,
``ranking``, ``spotlight``. Which set fills a season: ``planting``, ``selling``, ``planning``, ``replacing``, ``comparing``; ``strip`` and ``slated`` tell of my slate. How many trees of which: ``demand``,
``ordering`` (the question), ``ordered`` (the answer looked at anew). ``at_hand`` works out what every page asks first. Nothing here knows a screen, and what
is handed out is shared: it is read, never written to.
"""
