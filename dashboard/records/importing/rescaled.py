"""What is said of ratings that a sheet has on another scale than the trial: on which they are kept, with an example."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from dashboard.records.declaration import Declaration, Scale
from dashboard.records.importing.layouts import Layout, by_word, role_of
from dashboard.records.importing.mapping import Answers, Path_
from dashboard.records.importing.measures import scale_for
from dashboard.records.importing.roles import ROLES
from dashboard.records.importing.trial import in_the_trial
from dashboard.records.problems import listed
from dashboard.records.schema import TABLES


def rescaled(shapes: Sequence[Layout], answers: Answers, declaration: Declaration) -> list[str]:
    """One line a pair of scales: “Red and shape: 1 to 9, 9 best, kept as 0 to 10, 10 best; 7 became 7.5.”"""
    found: dict[tuple[Scale, Scale], list[str]] = {}
    for name, scale in _rated(shapes, answers):
        kept = declaration.ratings[name]
        if (scale.low, scale.high, scale.best) != (kept.low, kept.high, kept.best):
            names = found.setdefault((scale, kept), [])
            names += [name] if name not in names else []
    return [_told(names, *scales, declaration) for scales, names in found.items()]


def _rated(shapes: Sequence[Layout], answers: Answers) -> Iterator[tuple[str, Scale]]:
    """Every rating and scale that was said of a column, or of the rows of a word, page by page."""
    for layout in shapes:
        paths: list[tuple[str, Path_]] = [(role_of(layout, label, answers)[0], layout.column(label)) for label in layout.headings]  # fmt: skip
        words = (("layout", layout.number, "readings", word) for word in by_word(layout, answers))
        paths += [(str(answers.at((*path, "is")) or ""), path) for path in words]
        for role, path in paths:
            if role in ROLES and ROLES[role].column.rating:
                for block in layout.blocks:
                    if scale := scale_for(answers, path, block.page):
                        yield ROLES[role].column.name, scale


def _told(names: Sequence[str], scale: Scale, kept: Scale, declaration: Declaration) -> str:
    column = TABLES["samples"].by_name[names[0]]
    middle = round(scale.low + 0.75 * (scale.high - scale.low))
    became = in_the_trial(scale.mapped(middle), column, None, declaration)
    said = listed(names)
    return (
        f"{said[0].upper()}{said[1:]}: {_ends(scale)}, kept as {_ends(kept)}; {middle:g} became {became:.3g}."
    )


def _ends(scale: Scale) -> str:
    return f"{scale.low:g} to {scale.high:g}, {scale.best:g} best"
