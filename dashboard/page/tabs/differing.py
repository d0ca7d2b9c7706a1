"""What really differs among cultivars side by side, in sentences: the sure ones, what cannot be told apart, what is not told."""

from __future__ import annotations

from itertools import groupby

from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import FEWEST, SideBySide
from dashboard.estimates.many import SURE
from dashboard.terms.traits import trait_called
from dashboard.wording.differences import sentence, unsure
from dashboard.wording.figures import counted, site_name

OPEN = 20  # sentences that stand open; the others unfold


def differing(asked: Question) -> Markup:
    """Under its heading; nothing is left blank without a reason."""
    found = asked.side_by_side
    assert found is not None
    said = Markup("<h3>What really differs</h3>")
    if len(found.names) < 2:
        return said + Markup("<p>{}</p>").format("Set a second cultivar beside it.")
    if found.differences:
        said += Markup('<p class="quiet small">{}</p>').format(" ".join(_about(asked, found)))
        said += _real(found, asked.units) + _alike(found, asked.units) + _apart(found)
    return said + _refused(found)


def _about(asked: Question, found: SideBySide) -> list[str]:
    told = []
    if asked.site:
        told.append(
            f"The table below is for {site_name(asked.catalogue, asked.site)}. Differences are over all sites, "
            "for only there is it known how far two values may be off together."
        )
    told.append(f"Differences are {_meant(found)}.")
    told.append(
        f"Sure means very unlikely to be luck: if none truly differed, {100 - 100 * SURE:.0f} of 100 such looks would call not one sure. "
        "In brackets: its likely range (90 %)."
    )
    return told


def _meant(found: SideBySide) -> str:
    """``over sites and seasons``; where traits differ in that, each with its own."""
    if len(found.meanings) == 1:
        return next(iter(found.meanings))
    labels = {
        meaning: ", ".join(trait_called(t).label.lower() for t in traits)
        for meaning, traits in found.meanings.items()
    }
    return "; ".join(f"{meaning}: {traits}" for meaning, traits in labels.items())


def _real(found: SideBySide, units: str) -> Markup:
    looked_at = len(found.differences)
    if not found.real:
        return Markup("<p><b>{}</b></p>").format(
            f"Nothing is sure after looking at {counted(looked_at, 'difference')}: chance alone could have made each of them."
        )
    lines = [Markup("<li>{}</li>").format(sentence(told, units)) for told in found.real]
    said = Markup("<p><b>{}</b></p><ul>{}</ul>").format(
        f"Sure, even after looking at {counted(looked_at, 'difference')}:", Markup("").join(lines[:OPEN])
    )
    if len(lines) > OPEN:
        said += Markup("<details><summary>{}</summary><ul>{}</ul></details>").format(
            f"{len(lines) - OPEN} more that are sure", Markup("").join(lines[OPEN:])
        )
    return said


def _apart(found: SideBySide) -> Markup:
    """Who never stood beside whom: what is told of them came through others."""
    pairs = dict.fromkeys(
        frozenset((t.by.first, t.by.second)) for t in found.differences if not t.by.together
    )
    if not pairs:
        return Markup("")
    named = [" and ".join(name for name in found.names if name in pair) for pair in pairs]
    return Markup('<p class="quiet small">{}</p>').format(
        f"Never at one site in one season in some trait, but joined through others: {'; '.join(named)}."
    )


def _alike(found: SideBySide, units: str) -> Markup:
    """By trait, who cannot be told from whom: of two with the figures, else one sentence, folded away where it would be a page."""
    if not found.alike:
        return Markup("")
    if len(found.names) == FEWEST:
        lines = Markup("").join(Markup("<li>{}</li>").format(unsure(told, units)) for told in found.alike)
        return Markup("<p><b>Not sure, they may differ or not:</b></p><ul>{}</ul>").format(lines)
    every = len(found.names) * (len(found.names) - 1) // 2
    whole, parts = [], []
    for trait, group in groupby(found.alike, key=lambda told: told.trait):
        pairs = [(told.by.first, told.by.second) for told in group]
        label = trait_called(trait).label.lower()
        if len(pairs) == every:
            whole.append(label)
        else:
            parts.append(f"in {label} {_with(found.names, pairs)}")
    if whole:
        parts.insert(0, f"in {', '.join(whole)} no one from any other")
    if len(found.alike) <= OPEN:
        return Markup("<p><b>Not sure, they may differ or not:</b> {}.</p>").format("; ".join(parts))
    lines = Markup("").join(Markup("<li>{}</li>").format(part) for part in parts)
    return Markup("<details><summary><b>{}</b></summary><ul>{}</ul></details>").format(
        f"Not sure, they may differ or not: {len(found.alike)} of the {len(found.differences)}", lines
    )


def _with(names: tuple[str, ...], pairs: list[tuple[str, str]]) -> str:
    """``A from B, C; B from D``: each pair once, under the name that stands first."""
    known = {frozenset(pair) for pair in pairs}
    told = []
    for place, name in enumerate(names):
        others = [other for other in names[place + 1 :] if frozenset((name, other)) in known]
        if others:
            told.append(f"{name} from {', '.join(others)}")
    return "; ".join(told)


def _refused(found: SideBySide) -> Markup:
    if not found.refused:
        return Markup("")
    lines = []
    for why, traits in found.refused.items():
        where = (
            ""
            if len(traits) == 1
            else f" ({', '.join(trait_called(trait).label.lower() for trait in traits)})"
        )
        lines.append(Markup("<li>{}</li>").format(why + where))
    return Markup("<p><b>Not told:</b></p><ul>{}</ul>").format(Markup("").join(lines))
