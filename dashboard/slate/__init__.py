"""The published slate: the page as one file that works from an e-mail or a plain web server, with no Python behind it.

Read ``coming_seasons``, ``pictures``, ``rows``, ``page``, ``publishing``; of its scripts ``coming.js`` (how well a list covers its days), ``filling.js``
(which few fill them), ``proposing.js``, ``planning.js`` (the strip and what is proposed), ``slate.js``. ``page`` makes one script of them.
"""

from dashboard.slate.page import published
from dashboard.slate.publishing import publish

__all__ = ["publish", "published"]
