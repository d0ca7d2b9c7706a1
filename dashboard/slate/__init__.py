"""The published slate: the page as one file that works from an e-mail or a plain web server, with no Python behind it."""

from dashboard.slate.page import published
from dashboard.slate.publishing import publish

__all__ = ["publish", "published"]
