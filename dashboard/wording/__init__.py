"""An answer's parts as a reader sees them, text only: ``figures``, ``column_kinds``, ``columns`` (every column of a table of cultivars, declared once),
``trait_rows`` and ``facts`` of one cultivar, its ``account`` with a market."""
