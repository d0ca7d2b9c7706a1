"""Twelve made-up ways of keeping trial records, what their technicians know, the truth, and how long an import takes them.

``python -m tests.ways`` makes all twelve, brings each in by the command's own questions, and prints a table;
``python -m tests.ways w08`` does it with one, ``make DIR`` writes the folders alone, ``compare TRUTH.csv TRIAL`` looks at a trial.
In their order: ``names``, ``samples``, ``sheets`` make records; ``truth`` compares; ``way`` is what a way consists of; ``w01`` to ``w12``;
``technician`` answers, ``reckoned`` counts.
"""

from tests.ways import w01, w02, w03, w04, w05, w06, w07, w08, w09, w10, w11, w12

ALL = {one.WAY.name: one.WAY for one in (w01, w02, w03, w04, w05, w06, w07, w08, w09, w10, w11, w12)}
