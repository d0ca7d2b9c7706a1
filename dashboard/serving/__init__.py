"""The server of the page, in this order: ``hosts`` (the names it is asked for by), ``dressing`` (what every answer carries), ``operating``
(what whoever runs it sees), ``door`` (who is let in), ``guarded`` (a visit's websocket), ``server``, ``read_beside`` (new records of a store);
``own_notebook`` (a notebook of one's own as the page), ``serve_command``.

What it stops and what it does not: docs/threats.md.
"""
