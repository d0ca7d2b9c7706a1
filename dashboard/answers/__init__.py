"""One question and its answer.

``catalogue`` is all that the records say, worked out once and shared; ``question`` asks it (read this one twice). In between, from the
top: ``choosing`` (what a choice is), ``choices`` (all there are), ``dossier``, ``side_by_side``, ``filters``, ``covering``, ``class_weeks``, ``prospects``, ``standing``, ``accounts``, ``stand_ins``,
``ranking``, ``spotlight``. Nothing here knows a screen, and what is handed out is shared: it is read, never written to.
"""
