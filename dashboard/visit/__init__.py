"""One visitor: ``link`` (a question as an address, and back), ``network_address`` (where a phone in the room finds it),
``saved_views``, ``history`` (what was left behind), ``state``."""
