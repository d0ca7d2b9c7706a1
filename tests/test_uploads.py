"""What visitors send is bounded, read beside the loop that answers all, and told in a sentence: over real websockets."""

from __future__ import annotations

import asyncio
import base64
import gzip
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from dashboard.market.toml_text import LARGEST
from dashboard.page import parts
from dashboard.records import name_lists
from dashboard.serving.guarded import MOST_ENTRIES, MOST_PARTS
from dashboard.serving.server import MOST_SENT
from tests.records.photographs import photograph
from tests.records.small import tables, write_folder
from tests.serving import Served, orchard_slate
from tests.visitor import PATIENCE, Guest

MARKET = b'name = "Stand by the road"\n[[limit]]\ntrait = "sugar"\nat_least = 9\n'
EDITOR = "No market yet"  # stands in the market editor of a first visit


@pytest.mark.parametrize("script", ["files.js", "name_lists.js"])
def test_what_the_page_sends_at_most_is_what_is_read_and_fits_into_one_message(script):
    """Base 64 takes four letters for three bytes; the rest is the message around it."""
    written = Path(str(parts.__file__)).with_name(script).read_text(encoding="utf-8")
    (largest,) = re.findall(r"const LARGEST = (\d+);", written)
    assert int(largest) == LARGEST == name_lists.LARGEST
    assert 4 * (LARGEST + 2) // 3 + 10_000 < MOST_SENT


@pytest.fixture(scope="module")
def served(tmp_path_factory) -> Iterator[Served]:
    """Small records with two photographs that are good and a newer one that is a link to itself."""
    grids = tables()
    names = ("photo", "S1.jpg", "S2.jpg", "S3.JPG", "")
    grids["samples"] = [[*row, name] for row, name in zip(grids["samples"], names, strict=True)]
    folder = write_folder(tmp_path_factory.mktemp("uploads") / "records", grids)
    for name in ("S1.jpg", "S3.jpg"):
        photograph(folder / "photos" / name)
    (folder / "photos" / "S2.jpg").symlink_to("S2.jpg")
    with orchard_slate(folder) as server:
        yield server


def test_photographs_come_cleaned_after_the_page_and_a_link_to_itself_stops_nothing(served):
    async def visit() -> str:
        async with Guest(served.url, "?v=1&tab=beside&beside=Alvane,Brintel") as guest:
            return await guest.told("data:image/jpeg")

    told = asyncio.run(visit())
    assert "Photograph of Alvane, Low field" in told
    assert "Photograph of Brintel, Low field" in told


def opening(content: bytes, file: str = "mine.toml") -> dict:
    return {"act": "open", "file": file, "size": len(content), "content": base64.b64encode(content).decode()}


def test_a_market_that_is_sent_is_opened(served):
    async def visit() -> str:
        async with Guest(served.url) as guest:
            await guest.send(EDITOR, tick=1, **opening(MARKET))
            return await guest.told("Stand by the road")

    assert "Your own market." in asyncio.run(visit())


def test_a_list_of_names_is_read_whatever_signs_stand_in_it(served):
    async def visit() -> str:
        text = "ALVANE\n" + '[{,"\n' * 3000
        async with Guest(served.url, "?v=1&tab=shortlist") as guest:
            await guest.send("Bring a list", act="paste", size=len(text), text=text)
            return await guest.told("1 name found: 1 put on my slate.")

    assert "entries did not match and were left out" in asyncio.run(visit())


def test_a_text_of_dots_and_a_torn_file_are_told(served):
    async def visit(sent: dict, words: str) -> str:
        async with Guest(served.url) as guest:
            await guest.send(EDITOR, tick=1, **sent)
            return await guest.told(words)

    asyncio.run(visit(opening(b"a" + b".a" * 50_000 + b" = 1"), "mine.toml: line 1 has 50,000 full stops"))
    asyncio.run(visit({**opening(b"x"), "content": "%%%"}, "did not arrive whole"))


def test_a_message_larger_than_any_that_is_meant_ends_its_own_visit_and_no_other(served):
    async def visits() -> str:
        async with Guest(served.url) as other:
            async with Guest(served.url) as guest:
                await guest.send(EDITOR, tick=1, act="open", file="x", size=1, content="A" * MOST_SENT)
                with pytest.raises(AssertionError, match="hung up"):
                    await guest.told("never")
            await other.send(EDITOR, tick=1, **opening(MARKET))
            return await other.told("Stand by the road")

    asyncio.run(visits())


def test_a_message_of_more_lists_or_entries_than_any_that_is_meant_ends_its_own_visit(served):
    """Unpacking them would hold everybody."""

    async def visit(more: object) -> str:
        async with Guest(served.url) as guest:
            await guest.send(EDITOR, tick=1, more=more, **opening(MARKET))
            return await guest.told("Stand by the road")

    assert asyncio.run(visit([[]] * 200)), "as many as changes the editor takes at once"
    assert asyncio.run(visit('[[view]]\n"name" = "{[(' * 400)), "brackets that somebody wrote"
    for more in ([[]] * MOST_PARTS, [0] * (MOST_ENTRIES + 1)):
        with pytest.raises(AssertionError, match="hung up"):
            asyncio.run(visit(more))


def test_nothing_that_is_sent_is_unpacked(served):
    """A hundred thousand bytes may pack a thousand times as many."""

    async def visit() -> None:
        packed = base64.b64encode(gzip.compress(MARKET)).decode()
        async with Guest(served.url) as guest:
            await guest.send(EDITOR, tick=1, more=[{"type": "bytes", "data": packed}], **opening(MARKET))
            await guest.told("Stand by the road")

    with pytest.raises(AssertionError, match="could not be made"):
        asyncio.run(visit())


def test_binary_parts_end_the_visit(served):
    """The page sends none; a message could announce any number, which would be kept until all have come."""
    header = '{"msgid": "9", "msgtype": "PATCH-DOC", "num_buffers": 1000000}'

    async def visit() -> None:
        async with Guest(served.url) as guest:
            for text in (header, "{}", '{"events": []}', '{"id": "part"}'):
                await guest._socket.write_message(text)
            await guest._socket.write_message(b"part", binary=True)
            while await asyncio.wait_for(guest._socket.read_message(), PATIENCE) is not None:
                pass

    asyncio.run(visit())
