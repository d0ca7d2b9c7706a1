"""The server of the page, in this order: ``hosts`` (the names it is asked for by), ``dressing`` (what every answer carries), ``operating``
(what whoever runs it sees), ``door`` (who is let in), ``guarded`` (a visit's websocket), ``server``.

What it stops and what it does not: docs/threats.md.
"""
