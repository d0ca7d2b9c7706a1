"""Answers drawn: frames in, HoloViews elements out. No Panel in here.

Every picture has a constant shape: one element for all cultivars, built once. What a change of answer moves is in
``held``: which rows show, the few rows of a re-sorted page, where a limit stands. ``in_a_cell``: as a notebook shows one.

``among``: one cultivar among all, as histograms. ``cards``: the dress of cards and grids. ``listed``: the list of cultivars dressed. ``listing``: the rows of a table of cultivars, as plain text. ``small``: drawings as small as a cell. ``strip``: the slate strip, drawn by
its script.
"""
