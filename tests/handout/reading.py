"""What stands on the pages of a handout, read back from its file."""

from __future__ import annotations

import io
import re
from functools import cache

import pypdf
from markupsafe import Markup

from dashboard.handout.paper import printable


@cache
def pages(made: bytes) -> tuple[str, ...]:
    """The text of each page without any white space: where lines are broken does not matter."""
    return tuple(flat(page.extract_text()) for page in pypdf.PdfReader(io.BytesIO(made)).pages)


def flat(text: str) -> str:
    return re.sub(r"\s+", "", text)


def shown(*cells: object) -> str:
    """Cells or words as they stand on paper, one after the other."""
    return flat(printable("".join(map(str, cells))))


def plain(told: Markup) -> list[str]:
    """The paragraphs of some prose of the page as plain texts."""
    return [str(Markup(part).striptags()) for part in re.findall(r"<p[^>]*>(.*?)</p>", str(told), re.DOTALL)]


def page_of(made: bytes, heading: str) -> str:
    """The page that begins with a heading."""
    (found,) = [page for page in pages(made) if page.startswith(shown(heading))]
    return found
