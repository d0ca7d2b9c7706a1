"""A list of names from outside: pasted, opened or standing ready; what is not meant for certain waits for a press on a spelling.

What is sent is read beside the loop that answers everybody, one list of a visitor at a time.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from pathlib import Path

import param

from dashboard.charts import style
from dashboard.page.parts import live
from dashboard.page.parts.files import content_of
from dashboard.page.patches.scripted import Element
from dashboard.records.name_lists import NameList, of_file, of_text, too_large
from dashboard.visit.state import State
from dashboard.wording.lists import PASTED, read_told, refused_told, unmatched_told

SHOWN = 40  # entries that did not match; the next move up as those are settled
_LONGEST_FILE = 100  # characters of an opened file's name
TOO_MANY = "So many names do not fit into the page's address, which carries the list; nothing was put on {}."
_CSS = (
    style.RUNNING_CSS
    + """
summary { cursor: pointer; font-weight: 600; padding: 8px 0; } label { margin: 0 0 8px; max-width: 60ch; }
textarea { font: inherit; font-size: 16px; width: 100%; box-sizing: border-box; padding: 6px 8px; }
ul { margin: 0 0 8px; padding: 0; list-style: none; max-width: 92ch; overflow-wrap: anywhere; } li > button { margin: 2px 0 2px 8px; }
@media (pointer: coarse), (max-width: 600px) { summary { padding: 13px 0; } input[type=file] { min-height: 44px; } }
"""
)


class NameLists(Element):
    """A folded part; ``act(message)`` is called once a press."""

    told = param.String(default="{}", doc="JSON of what ``tell`` was given")

    script = Path(__file__).with_name("name_lists.js")
    dress = (_CSS,)

    def __init__(self, act: Callable[[dict], None], **params):
        super().__init__(**{"sizing_mode": "stretch_width", "margin": (5, 10), **params})
        self._act = act

    def tell(self, view: dict) -> None:
        self.told = json.dumps(view, ensure_ascii=False)

    @live.at_once
    def heard(self, msg) -> None:
        self._act(msg)


class Bringing:
    """One visitor's reading of lists. ``put(names)`` takes what is certain and tells how many were new, or None where the link has
    no room for them; ``onto`` is what they are put on, in words."""

    def __init__(
        self,
        state: State,
        title: str,
        onto: str,
        put: Callable[[tuple[str, ...], bool], int | None],
        ready: Mapping[str, tuple[str, ...]] | None = None,
    ) -> None:
        self.known = tuple(str(name) for name in state.question.catalogue.cultivars.index)
        self.title, self.onto, self.put, self.ready = title, onto, put, dict(ready or {})
        self.hand = live.Hand()
        self.found = NameList()
        self.faults: list[str] = []
        self.said: list[str] = []
        self.element = NameLists(self._heard)
        self._tell()

    def _heard(self, msg: dict) -> None:
        act, at, known = msg.get("act"), msg.get("at"), self.known
        self.faults = []
        if act == "paste":
            text, size = str(msg.get("text", "")), msg.get("size")
            self._read(PASTED, lambda: _bounded(size) or of_text(text, known))
        elif act == "bring":
            file = " ".join(str(msg.get("file")).split())[:_LONGEST_FILE]
            content, size = str(msg.get("content", "")), msg.get("size")
            self._read(file, lambda: _bounded(size) or _opened(content, file, known))
        elif act == "use" and isinstance(at, int) and 0 <= at < len(self.found.unmatched):
            self._use(at, str(msg.get("name")))
        elif act == "ready" and isinstance(at, int) and 0 <= at < len(self.ready):
            self._take(NameList(list(self.ready.values())[at]))
        self._tell()

    def _read(self, what: str, read: Callable[[], NameList]) -> None:
        def arrived(found: NameList) -> None:
            if found.refused:
                self.faults = [refused_told(what, found.refused)]
            else:
                self._take(found)
            self._tell()

        if not self.hand.take(read, arrived):
            self.faults = [live.BUSY]

    def _take(self, found: NameList) -> None:
        added = self.put(found.names, True)
        if added is None:
            self.faults = [TOO_MANY.format(self.onto)]
        else:
            self.found, self.said = found, read_told(found, added, self.onto)

    def _use(self, at: int, name: str) -> None:
        """One of the spellings that an entry may have been meant for; the entry is settled."""
        left = self.found.unmatched
        if name not in left[at].near(self.known):
            return
        if self.put((name,), False) is None:
            self.faults = [TOO_MANY.format(self.onto)]
            return
        self.said = [f"{name} was put on {self.onto} for “{left[at].text}”."]
        self.found = NameList(self.found.names, left[:at] + left[at + 1 :])

    def _tell(self) -> None:
        left = self.found.unmatched
        self.element.tell(
            {
                "title": self.title,
                "ready": list(self.ready),
                "faults": self.faults,
                "said": self.said,
                "missed": [
                    {"text": unmatched_told(one), "near": one.near(self.known), "at": at}
                    for at, one in enumerate(left[:SHOWN])
                ],
                "more": f"and {len(left) - SHOWN:,} more that did not match" if len(left) > SHOWN else "",
            }
        )


def _bounded(size: object) -> NameList | None:
    refused = too_large(size) if isinstance(size, int) else None
    return NameList(refused=refused) if refused else None


def _opened(content: str, file: str, known: tuple[str, ...]) -> NameList:
    try:
        return of_file(content_of(content), file, known)
    except ValueError:
        return NameList(refused=("it did not arrive whole", "open it once more"))
