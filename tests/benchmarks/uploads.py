"""``python -m tests.benchmarks.uploads``: how long one visitor waits for a change while another sends the worst there is.

Both talk to the demo's page over websockets; the first ticks a box again and again.
"""

from __future__ import annotations

import asyncio
import base64
import gzip
import time
from collections.abc import Awaitable, Callable
from contextlib import AsyncExitStack, suppress
from urllib.parse import quote

from dashboard.market.toml_text import LARGEST
from dashboard.places import demo_data
from dashboard.serving.server import MOST_SENT
from tests import visitor
from tests.benchmarks.tables import markdown
from tests.serving import Served
from tests.visitor import Guest

EDITOR, LIST, BOXES, FILES = "No market yet", "RunningOrder", '"left"', "Handout as .pdf"
KEPT, FINDER = "KeptViews", "Finder"
SHEETS = {"present": LIST, "share": FILES}  # what each brings when it is opened
Act = Callable[[Guest], Awaitable[object]]
TAB = "?v=1&tab=shortlist&market=roadside_stand"


def file(act: str, text: str) -> dict:
    content = text.encode()[:LARGEST]
    return {"act": act, "file": "x.toml", "size": len(content), "content": base64.b64encode(content).decode()}


async def waits(url: str, query: str, act: Act | None) -> float:
    """Seconds of the longest change of one visitor until ``act`` of another, who is there already, is through; without an act
    until the other has come by the link ``query``."""
    async with Guest(url) as guest, AsyncExitStack() as there:
        other = Guest(url, query)
        if act is not None:
            await there.enter_async_context(other)
            for sheet, holds in SHEETS.items():
                await other.open_sheet(sheet, holds)
            await asyncio.sleep(2)  # until it stands
        worst = asyncio.ensure_future(act(other) if act is not None else there.enter_async_context(other))
        longest, number = 0.0, 0
        while not worst.done():
            number += 1
            started = time.perf_counter()
            await guest.send(BOXES, tick=number, field="flesh_colour", chosen=["white"] if number % 2 else [])
            await guest.told('"answered"')
            longest = max(longest, time.perf_counter() - started)
            await asyncio.sleep(0.02)
        await worst
    return longest


def sending(marked: str, words: str, **message: object) -> Act:
    async def act(guest: Guest) -> None:
        await guest.send(marked, **message)
        if words:
            await guest.told(words)
        else:  # it means nothing, and nothing is said
            await asyncio.sleep(2)

    return act


def ending(marked: str, **message: object) -> Act:
    """What is answered by hanging up, or by saying that it could not be followed."""

    async def act(guest: Guest) -> None:
        await guest.send(marked, **message)
        with suppress(AssertionError):
            await guest.told("nothing of the kind")

    return act


def marking(indices: list[int]) -> Act:
    """Marks in a picture, as dragging a frame around them does."""

    async def act(guest: Guest) -> None:
        selection = of_kind(guest.document["doc"], "Selection")
        change = {"kind": "ModelChanged", "model": {"id": selection}, "attr": "indices", "new": indices}
        await guest._say("PATCH-DOC", {"events": [change]})
        await asyncio.sleep(2)

    return act


def of_kind(document: object, kind: str) -> str:
    """The id of the first model of a kind in a page as it was handed out; "" where there is none."""
    if isinstance(document, dict):
        if document.get("name") == kind and "id" in document:
            return document["id"]
        document = list(document.values())
    return (
        next(filter(None, (of_kind(part, kind) for part in document)), "")
        if isinstance(document, list)
        else ""
    )


def acts(names: list[str]) -> dict[str, tuple[str, Act | None]]:
    """By what is sent: the link the other came by, and what it does."""
    listed = ",".join(quote(name) for name in names[:100])
    lists: list = [[]] * ((MOST_SENT - 2_000) // 4)
    nested: list = []
    for _ in range(270):
        nested = [nested]
    packed = base64.b64encode(gzip.compress(bytes(120_000_000))).decode()
    return {
        "nothing": ("", sending(EDITOR, "", tick=1)),
        "views: a key of 50,000 dots": (TAB, sending(LIST, "full stops", **file("bring", "a" + ".a" * 50_000 + "=1"))),
        "views: 13,000 tables": (TAB, sending(LIST, "of which the first", **file("bring", "[[view]]\n" * 13_000))),
        "market: as many keys as fit": ("", sending(EDITOR, "x.toml", tick=1, **file("open", "".join(f"k{n}=1\n" for n in range(13_000))))),
        "market: a key of 3,000 dots": ("", sending(EDITOR, "x.toml", tick=1, **file("open", "a" + ".a" * 3_160 + "=1"))),
        "market: lists within lists": ("", sending(EDITOR, "x.toml", tick=1, **file("open", "a=" + "[" * 60_000))),
        "views that the browser kept": ("", sending(KEPT, "", theirs="[[view]]\n" * 20_000, base="")),
        "a message of as many lists as fit": (TAB, ending(LIST, act="x", more=lists)),
        "a message of 300 lists within each other": (TAB, sending(LIST, "", act="x", more=nested)),
        "a message that unpacks to 120 MB": (TAB, ending(LIST, act="x", more={"type": "bytes", "data": packed})),
        "a name of 190,000 letters to be found": ("?v=1&tab=cultivar", sending(FINDER, "No cultivar", find="ab " * 63_000)),
        "190,000 letters in a field of the market": ("", sending(EDITOR, "", tick=1, set=[["class", "firmness", "7" * 190_000]])),
        "as many marks in a picture as are taken": ("", marking([0] * 19_900)),
        "as many ticks as are taken": ("", sending(BOXES, "", field="own", chosen=["a"] * 19_900)),
        "35,000 ticks": ("", ending(BOXES, field="own", chosen=["a"] * 35_000)),
        "a handout of 100 pages, the first file": (TAB + "&shortlist=" + listed, sending(FILES, "esm_event", make=0)),
        "a handout of 100 pages, a later one": (TAB + "&shortlist=" + listed, sending(FILES, "esm_event", make=0)),
        "a page that is opened": ("?v=1", None),
        "a page opened by a link of 30,000 letters": ("?v=1&fruit_type=" + "peach," * 5_000, None),
        "a page opened by a link of 9,000 bad lines": ("?v=1&own=" + "si," * 9_000, None),
    }  # fmt: skip


def main() -> None:
    from dashboard.answers.catalogue import load

    visitor.PATIENCE = 120.0  # of a machine that does other things, too
    names = [str(name) for name in load(demo_data()).cultivars.index]
    with Served(demo_data(), "--warm") as server:
        asyncio.run(waits(server.url, TAB, None))
        rows = [
            {
                "another visitor sends": what,
                "a change waits at most, ms": f"{1000 * asyncio.run(waits(server.url, *act)):.0f}",
            }
            for what, act in acts(names).items()
        ]
    print(markdown(rows))


if __name__ == "__main__":
    main()
