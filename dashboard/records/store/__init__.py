"""A trial kept in one embedded file, or in PostgreSQL by its address: every state it ever had, and who brought what in.

In this order: ``opening`` (which place is a store, and a transaction in it), ``tables`` (what it holds, and its small numbered steps), ``bales`` (many blocks in one row),
``net`` (which imports stand), ``kept`` (a state as sheets, for the ordinary reader), ``newest`` (what a server shows of it); then what comes in: ``whole_columns``, ``judging``, ``by_sample`` and ``swift`` (millions of
fruit), ``declaring``, ``differing``, ``coming``, ``columns``, ``joining``, ``bringing``, ``sheets_in`` (a bench sheet); then what is taken back: ``versions``, ``referring``, ``undoing``; ``history``, ``leaving``, ``odd``, ``command``.
"""
