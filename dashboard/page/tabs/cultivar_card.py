"""The card of one cultivar: its fruit, its class, what the buyer says of it, when it is picked, and three figures."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.answers.standing import fits
from dashboard.charts import fruit as drawn
from dashboard.charts.listing import over_gaps
from dashboard.market.verdict import MISSES, QUALIFIES
from dashboard.page.parts.pressable import star
from dashboard.ripening import day_label
from dashboard.terms.traits import HEADLINE, UNKNOWN, trait_called
from dashboard.wording.columns import COLUMNS
from dashboard.wording.figures import DATED, chance, kind, measured, pit_told, stretches, years_in_ten

LOOKS = {QUALIFIES: "qualifies", MISSES: "misses"}


def card(asked: Question) -> Markup:
    """Of the opened cultivar."""
    found = asked.spotlight
    assert found is not None
    row: Any = {**found.row, "name": found.name}
    head = Markup('<div class="title"><h2>{}</h2>{}</div><ul class="chips">{}</ul>').format(
        found.name,
        star(found.name, found.name in asked.shortlist),
        Markup("").join(Markup("<li>{}</li>").format(word) for word in chips(asked)),
    )
    side = drawn.span([found.fruit], asked.units)
    return Markup(
        '<article class="card about" aria-label="{}">{}<div>{}</div><div class="wide">{}</div></article>'
    ).format(
        f"{found.name} at a glance",
        drawn.drawing(found.fruit, asked.units, side),
        head + verdict(asked) + picked(asked),
        three(asked, row),
    )


def chips(asked: Question) -> list[str]:
    """``yellow peach``, ``low acid``, ``freestone``, ``released``: what is recorded of its class."""
    own = asked.catalogue.cultivars.loc[asked.cultivar]
    words = [kind({**own, "status": ""})]
    if own["acidity_class"] != UNKNOWN:
        words.append(f"{own['acidity_class']} acid")
    words += [pit_told(own["stone"]), str(own["status"]) if own["status"] != UNKNOWN else ""]
    if own["protected"]:
        words.append("protected")
    return [word for word in words if word]


def verdict(asked: Question) -> Markup:
    """``Qualifies for Roadside stand. Weakest point: looks 6.6``, a sentence a buyer; nothing without a market."""
    if asked.profile is None:
        return Markup("")
    word = str(asked.fit["verdict"][asked.cultivar])
    said = asked.reason(asked.cultivar)
    rest = said[len(word) :] if said.lower().startswith(word.lower()) else f": {said}"
    told = _verdict(word, asked.profile.name, f"{rest}.")
    if asked.second_buyer:
        other = COLUMNS["second"].told(asked, {"name": asked.cultivar})
        told += _verdict(other, asked.second_buyer.name, ".")
    return told


def picked(asked: Question) -> Markup:
    """The days of picking over the slate's gaps, in figures and words."""
    south, name = asked.catalogue.south, asked.cultivar
    window: Any = catalogues.windows_at(asked.catalogue, asked.site, asked.season_kind).loc[name]
    if window["first"] != window["first"]:
        return Markup('<p class="quiet small">{}</p>').format("When it is picked is not on record.")
    when = f"{day_label(window['first'], south)} – {day_label(window['last'], south)}"
    told = [f"usually {when} in {DATED[asked.season_kind]}"]
    if window["not_before"] == window["not_before"] and asked.season_kind in ("ordinary", "any"):
        often = "seen" if asked.catalogue.ripening.refused else "9 years in 10"
        ends = f"{day_label(window['not_before'], south)} and {day_label(window['not_after'], south)}"
        told.append(f"{often} between {ends}")
    told += covering(asked)
    return over_gaps(asked, window) + Markup('<p class="quiet small">{}</p>').format(" · ".join(told))


def covering(asked: Question) -> list[str]:
    """Which gap of the slate it covers, or would; nothing while the slate is empty or no chance can be told."""
    strip, name = asked.strip, asked.cultivar
    if strip is None or not asked.shortlist:
        return []
    told = []
    for buyer, row in zip(asked.buyers, strip.rows, strict=True):
        whose = f" for {buyer.name}" if buyer and len(strip.rows) > 1 else ""
        if buyer is not None and not takes(asked, buyer, name):
            told.append(f"covers no gap of my slate{whose}: the buyer does not take it")
        elif name in asked.shortlist:
            alone = stretches(row.cover.left_bare(name), asked.catalogue.south, 3).replace(" to ", "–")
            told.append(
                f"on my slate: without it, {alone} has fruit in fewer than {years_in_ten(asked)}{whose}" if alone else f"on my slate, no day rests on it alone{whose}"
            )  # fmt: skip
        else:
            closed = stretches(row.closed_by(name), asked.catalogue.south, 3).replace(" to ", "–")
            told.append(f"covers {closed or 'no gap of my slate'}{whose}")
    return told


def takes(asked: Question, buyer: Any, name: str) -> bool:
    return bool(fits(asked.catalogue, buyer, asked.basis)["taken"][name])


def three(asked: Question, row: Any) -> Markup:
    """Score, chance that every limit holds, chance to be among the best; without a market size, firmness and sugar."""
    if asked.profile is None:
        shown = []
        for trait in HEADLINE:
            own: Any = asked.values[trait].loc[asked.cultivar]
            low, high = (trait_called(trait).written(own[end], asked.units) for end in ("low", "high"))
            around = f"{low}–{high} likely" if own["low"] == own["low"] else "range not known"
            shown.append(
                (measured(trait, own["estimate"], asked.units), trait_called(trait).label.lower(), around)
            )
        return _three(shown)
    score = row["score"]
    likely = (
        f"{100 * row['score_low']:.0f}–{100 * row['score_high']:.0f} likely"
        if score == score and row["score_low"] == row["score_low"]
        else ""
    )
    leads = row.get("leads", float("nan"))
    return _three(
        [
            (f"{100 * score:.0f}" if score == score else "–", "score of 100", likely or "range not known"),
            (chance(row["clears"]), "chance it clears every limit", ""),
            (chance(leads), f"chance to be in your best {asked.top}", "" if leads == leads else "told of what passes your filters"),
        ]
    )  # fmt: skip


def _three(shown: list[tuple[str, str, str]]) -> Markup:
    return Markup('<dl class="three">{}</dl>').format(
        Markup("").join(
            Markup("<div><dt>{}<br>{}</dt><dd>{}</dd></div>").format(label, around, figure)
            for figure, label, around in shown
        )
    )


def _verdict(word: str, buyer: str, rest: str) -> Markup:
    return Markup('<p class="verdict"><b class="{}">{}{} for {}</b>{}</p>').format(
        LOOKS.get(word, "may"), "✓ " if word == QUALIFIES else "", word.capitalize(), buyer, rest
    )
