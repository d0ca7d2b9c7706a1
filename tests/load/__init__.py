"""How many can look at once: real sessions over real websockets against one server. ``python -m tests.load KIND``.

- ``steady N``: N sessions open one after another, then each makes a change every 5 s.
- ``arrivals``: two a second for 30 s, each with the scripts a newcomer's browser fetches, then a change every 5 s.
- ``churn``: among 100 one comes and one goes every second, for a minute.
- ``burst``: 60 pages are asked for at once beside 20 that are open and ask for a change every second.
- ``soak``: 500 visits one after another, eight at a time; the memory held along the way.

``--processes 2`` puts two processes behind nginx, with the file that docs/deploy hands out. ``--equal`` lets everybody ask the same questions in step; otherwise hardly any is asked twice. Nothing of it is a test: it prints tables.
Each server is a process of its own, watched from within (``watched.py``); the client is this one. It asks nobody but this machine, at most
1,000 sessions and a quarter of an hour at a time. A change is counted from what the browser sends to the last word of the answer; drawing is not in it.
"""
