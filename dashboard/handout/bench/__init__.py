"""The bench: one site and day from one definition as a workbook, a paper form, and a page that works without network.

Read ``day`` (the definition), ``workbook``, ``paper``, ``page``, ``command``; of the page's scripts ``alone.js`` (one page at a time), ``kept.js`` (what a browser keeps), ``typed.js``
(what was typed), ``cells.js`` (what comes next), ``doubts.js``, ``entry.js`` (keys), ``filed.js`` (the file), ``walking.js``, ``measuring.js``, ``bench.js``.
"""
