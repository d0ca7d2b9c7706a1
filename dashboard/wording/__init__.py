"""An answer's parts as a reader sees them, text only, and the same wherever they stand.

``figures`` (numbers, names and choices as short texts), ``how_taken`` (which fruit were sampled), ``cautions``, ``legend``; ``column_kinds`` and ``columns`` (every
column of a table of cultivars, declared once), ``trait_rows``, ``boxes`` (a choice as boxes to tick); then sentences: ``facts`` of one cultivar, ``differences`` of two, two ``set_against`` each other, where it stands ``among`` all, its
``account`` with a market, what a value was ``earlier``, which readings lie ``past_ends``, how sure an ``order`` is, what an ``ordering`` of trees buys, ``gaps`` of a season, ``lists`` brought, compared and shortened, what stands round ``pictures`` that leave the page,
what all of it ``stands_on``, and what is said of ``presenting`` it.
"""
