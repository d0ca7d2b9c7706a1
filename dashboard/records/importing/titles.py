"""Titles of sheets that have one heading a row lower than the others: the same title is asked about once."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from dashboard.records.importing.blocks import Block


def aligned(blocks: Sequence[Block], answered: Collection[str]) -> list[Block]:
    """The blocks with the titles of each keyed as the first block has them, where counted from the top they say the same.

    A key counts from the headings up: B, 2 above. A row more between titles and headings makes other keys of the same titles.
    ``answered``: keys that something was said of; a block that has none of these leads no other.
    """
    lead = next((block for block in blocks if {key for key, _, _ in block.titles} & {*answered}), None)
    lead = lead or next((block for block in blocks if block.titles), None)
    if lead is None:
        return list(blocks)
    keys = {place: key for key, place in _from_the_top(lead).items()}
    said = {key: str(lead.page.cells[row, column]) for key, row, column in lead.titles}
    return [_as_in(block, keys, said) for block in blocks]


def _from_the_top(block: Block) -> dict[str, tuple[int, int]]:
    """By key the row and column of each title, rows counted from the first title."""
    top = min((row for _, row, _ in block.titles), default=0)
    return {key: (row - top, column) for key, row, column in block.titles}


def _as_in(block: Block, keys: dict[tuple[int, int], str], said: dict[str, str]) -> Block:
    places = _from_the_top(block)
    named = {key: keys.get(place) or (f"{key} too" if key in said else key) for key, place in places.items()}
    if len({*named.values()}) < len(named):
        return block
    texts = {key: str(block.page.cells[row, column]) for key, row, column in block.titles}
    from_the_top = sum(said.get(named[key]) == text for key, text in texts.items())
    from_below = sum(said.get(key) == text for key, text in texts.items())
    if from_the_top <= from_below:
        return block
    return replace(block, titles=tuple((named[key], row, column) for key, row, column in block.titles))
