"""What a notebook calls: names are checked, frames carry units and dates, answers know their evidence.

Start with ``records`` (what ``load`` gives) and ``asked`` (a question and its answers). Under them: ``understood`` (a word, or one
sentence with the nearest), ``table`` (an answer), ``reading`` (how it is seen), ``columns`` (a ranking's), ``choices`` and ``choosing`` (keyword arguments as a
question), ``resting`` (evidence and cautions), then the answers: ``due``, ``set_beside``, ``planned``, ``ordered``, ``formulas`` (a trait of one's own) and ``worths``, ``brought`` (what is added to records), ``pictures``, ``leaving`` (for other programs). The same face stands in
``dashboard`` itself, with the page as a notebook puts it together (``page/own.py``); ``page/documented.py`` writes docs/python.md.
"""
