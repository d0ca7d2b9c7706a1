"""How the figures of a column are written: the unit, the scale, commas, 0, and words where numbers stand."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from dashboard.records.importing.asked_dates import SHOWN
from dashboard.records.importing.cheeks import SECOND, asked_cheeks, figures_in
from dashboard.records.importing.figures import (
    ASIDE,
    NOTHING,
    READING,
    SET_ASIDE,
    comma,
    halves,
    is_zero,
    missing_codes,
    wordy,
)
from dashboard.records.importing.forms import answers_to, counted, form_of
from dashboard.records.importing.kinds import DECIMALS
from dashboard.records.importing.kinds import READINGS as READING_WORDS
from dashboard.records.importing.layouts import Layout, by_word, role_of
from dashboard.records.importing.mapping import ANY, Answers, Question
from dashboard.records.importing.measures import asked_scale, asked_unit
from dashboard.records.importing.roles import NOT_USED, READINGS, ROLES, SPREAD_OF, Role, offered
from dashboard.records.importing.seen import Seen
from dashboard.records.importing.several import asked_share
from dashboard.records.importing.together import listed
from dashboard.records.problems import quoted

MOST_WORDS = 40
# Common practice, no source: what is written where nothing was measured. A list of them is shown; nothing is taken for it unseen.
_MARKS = frozenset(("-", "--", "–", "—", ".", "..", "...", "/", "n/a", "na", "n.a.", "nd", "n.d.", "n/d", "none", "nil", "null", "nan", "missing", "blank", "not measured", "not read"))  # fmt: skip


def asked_figures(seen: Seen, role: Role, answers: Answers) -> Iterator[Question]:
    yield from asked_unit(seen, role, answers)
    for one in asked_share(seen.path, seen.about, seen.heading, role, seen.values, answers):
        yield listed(one, seen.named, "share_of", seen.layout.files)
    if role.column.rating:
        yield from asked_scale(seen, role, answers)
    values = seen.values
    if role.name in SPREAD_OF and (both := [(value, *two) for value in values if (two := halves(value))]):
        shown = tuple(
            f"  {quoted(cell)} → mean {mean}; {rest} is its sd or se" for cell, mean, rest in both[:SHOWN]
        )
        asks = "what stands behind ±: the deviation of the fruit (sd), or the error of the mean (se)?"
        yield Question((*seen.path, "behind"), asks, ("sd", "se", NOT_USED), shown, about=seen.about, alike=("behind", seen.layout.files), line=("", seen.named, shown[0].strip()))  # fmt: skip
        values = list(dict.fromkeys(part for value in values for part in halves(value) or (value,)))
    if role.name in SECOND and not _read_by_itself(seen.layout, SECOND[role.name], answers):
        yield from asked_cheeks(seen.path, seen.about, role, values, answers)
        values = list(dict.fromkeys(part for value in values for part in figures_in(value, role)))
    if commas := [value for value in values if comma(value)]:
        shown = tuple(f"  {quoted(v)} → with ,: {v.replace(',', '.')}; with .: set aside" for v in commas[:1])
        asks = "what stands before the decimals of a number?"
        more = seen.count(*commas) - 1
        stands = quoted(commas[0]) + (f" and {more:,} more" if more > 0 else "")
        yield Question((*seen.path, "decimals"), asks, (",", "."), shown, about=seen.about, alike=(DECIMALS, seen.layout.where), line=("", seen.heading or seen.layout.where, stands))  # fmt: skip
    yield from _forms(seen, role, values)
    if role.measured and (zeros := [value for value in values if is_zero(value)]):
        yield _zero(seen, role, seen.count(*zeros))
    for code in missing_codes(values) if role.measured else ():
        if (count := seen.count(code)) != 1:  # 0: they are not counted
            shown = (f"  {quoted(code)} → {READING}: it counts in the mean; {NOTHING}: the cell is empty; {ASIDE}: waits in the sheet of what was set aside",)  # fmt: skip
            yield Question(
                (*seen.path, "words", code), f"is {code} a reading, or was nothing measured?", (NOTHING, READING, ASIDE), shown, about=seen.about,
                alike=("codes", code), line=("", seen.named, f"{code} in {count:,} cells" if count else code),
            )  # fmt: skip
    for word in [value for value in values if wordy(value)][:MOST_WORDS]:
        asks = f"{quoted(word)} stands where numbers do; was {NOTHING} measured, is it put {ASIDE} to look at, or which number is it?"
        kind = "marks" if word.casefold() in _MARKS else "words"
        yield Question(
            (*seen.path, "words", word), asks, (NOTHING, ASIDE, ANY), about=seen.about, may=_number,
            alike=(kind,), line=("", quoted(word), seen.heading), count=seen.count(word),
        )  # fmt: skip


def _forms(seen: Seen, role: Role, values: Sequence[str]) -> Iterator[Question]:
    """What cells like 8+ and 6-7 count as, once a form."""
    found: dict[str, dict[str, tuple[str, ...]]] = {}
    for value in values if role.measured else ():
        if written := form_of(value):
            found.setdefault(written[0], {})[value] = written[1]
    for form, cells in found.items():
        words = answers_to(form)
        shown = tuple(
            f"  {quoted(cell)} → " + "; ".join(f"{word}: {counted([one.replace(',', '.') for one in parts], word)}" for word in words)
            for cell, parts in list(cells.items())[:SHOWN]
        )  # fmt: skip
        yield Question(
            (*seen.path, "forms", form), f"cells like {quoted(form)} are not one figure; what do they count as?", (*words, SET_ASIDE), shown,
            about=seen.about, alike=("forms", form), line=("", quoted(form), seen.heading), count=seen.count(*cells),
        )  # fmt: skip


def _zero(seen: Seen, role: Role, count: int) -> Question:
    """Of a diameter 0 is no reading, of a rating it may be the worst: the two are not asked about together."""
    shown = (f"  “0” → {READING}: 0 counts in the mean; {NOTHING}: the cell is empty",)
    judged = "ratings and shares" if role.column.quantity in ("rating", "share") else "figures"
    stands = f"0 in {count:,} {'cell' if count == 1 else 'cells'}" if count else "0"
    return Question(
        (*seen.path, "zero"), "is 0 a reading, or was nothing measured?", (READING, NOTHING), shown, about=seen.about,
        alike=("zero", judged), line=("", seen.named, stands),
    )  # fmt: skip


def asked_readings(layout: Layout, answers: Answers) -> Iterator[Question]:
    """Each word of a column that says what the figures of its row are, asked like a column."""
    for word, found in by_word(layout, answers).items():
        path = ("layout", layout.number, "readings", word)
        offer = offered(word)[0] if offered(word)[0] in READINGS else ""
        seen = Seen(layout, path, f"rows {quoted(word)} of {layout.where}", found, word)
        said = answers.at((*path, "is"))
        shown = tuple(f"  {quoted(value)}" for value in seen.values[:SHOWN])
        yield Question(
            (*path, "is"), "which reading is this?", (*READINGS, NOT_USED), shown, offer, seen.about,
            alike=(READING_WORDS, layout.where), line=("", quoted(word), seen.cells), proposal=offer,
        )  # fmt: skip
        role = said if isinstance(said, str) else offer
        if role in READINGS:
            yield from asked_figures(seen, ROLES[role], answers)


def _read_by_itself(layout: Layout, name: str, answers: Answers) -> bool:
    """Whether a column, or a word for what a row holds, is this reading."""
    if any(role_of(layout, label, answers)[0] == name for label in layout.headings):
        return True
    return any(answers.at(("layout", layout.number, "readings", word, "is")) == name for word in by_word(layout, answers))  # fmt: skip


def _number(said: str) -> bool:
    try:
        return np.isfinite(float(said))
    except ValueError:
        return False
