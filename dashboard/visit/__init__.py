"""One visitor: ``link`` (a question as an address, and back), ``saved_views``, ``history`` (what was left behind), ``state``."""
