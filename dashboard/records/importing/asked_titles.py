"""What the titles above a table say: a site, a cultivar, a day, or nothing that is used."""

from __future__ import annotations

from collections.abc import Iterator

from dashboard.records.importing import dates
from dashboard.records.importing.asked_dates import SHOWN, asked_dates
from dashboard.records.importing.kinds import COLUMNS
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.mapping import Answers, Question
from dashboard.records.importing.roles import NOT_USED
from dashboard.records.problems import quoted

TITLE_ROLES = ("cultivar", "site", "date", NOT_USED)
_COUNTED = dict(zip("123456789", ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine"), strict=True))  # fmt: skip


def asked_titles(layout: Layout, answers: Answers) -> Iterator[Question]:
    for key in layout.titles:
        texts = list(dict.fromkeys(text for said in _title_texts(layout, key).values() for text in said))
        role = title_role(layout, key, answers)
        path = layout.title(key)
        shown = tuple(f"  {quoted(text)}" for text in texts[:SHOWN])
        name = f"title in {title_place(key).removesuffix(' the headings')}" + (
            "" if layout.kin is None else f", {layout.where}"
        )
        yield Question(
            (*path, "is"), "what does this title say?", TITLE_ROLES, shown, role, f"{title_place(key)}, {layout.where}",
            alike=(COLUMNS, layout.table), line=(key.removesuffix(" above").replace(", ", "-"), name, "; ".join(map(quoted, texts[:SHOWN]))), proposal=role,
        )  # fmt: skip
        if role == "date":
            held = _title_texts(layout, key, held=True)
            found = {file: [date for text in said if (date := dates.in_text(text))] for file, said in _title_texts(layout, key).items()}  # fmt: skip
            where = f"{title_place(key)}, {layout.where}"
            yield from asked_dates(
                path, where, found, held, answers, place=layout.files, name=f"title, {layout.where}"
            )


def title_place(key: str) -> str:
    """Where a title stands, in words: its key is “B, 2 above”."""
    column, _, above = key.partition(", ")
    count = above.partition(" ")[0]
    rows = f"{_COUNTED.get(count, count)} {'row' if count == '1' else 'rows'}"
    return f"column {column}, {rows} above the headings"


def title_role(layout: Layout, key: str, answers: Answers) -> str:
    """What a title says: as answered, else as offered."""
    said = answers.at((*layout.title(key), "is"))
    if said in TITLE_ROLES:
        return str(said)
    texts = [text for said in _title_texts(layout, key).values() for text in said]
    if any(text.casefold().startswith(("site", "block", "location", "orchard")) for text in texts):
        return "site"
    return (
        "date"
        if all(dates.in_text(text) and not dates.week_in(text) for text in texts) and not _dated(layout, key)
        else NOT_USED
    )


def _dated(layout: Layout, key: str) -> bool:
    """Whether a title before it, on the same sheet, holds a date."""
    for block in layout.blocks:
        keys = [one for one, _, _ in block.titles]
        if key in keys and any(dates.in_text(str(block.page.cells[row, column])) for _, row, column in block.titles[: keys.index(key)]):  # fmt: skip
            return True
    return False


def _title_texts(layout: Layout, key: str, held: bool = False) -> dict[str, list[str]]:
    """What stands in a title, by file; ``held``: where the cell holds a date."""
    found: dict[str, list[str]] = {}
    for block in layout.blocks:
        for one, line, place in block.titles:
            if one == key and (not held or (line, place) in block.page.days):
                found.setdefault(block.page.file, []).append(str(block.page.cells[line, place]))
    return found
