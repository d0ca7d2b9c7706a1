"""Under a cultivar's card: how it compares with all, what to know before ordering it, and what to take if it is sold out."""

from __future__ import annotations

from typing import Any

from markupsafe import Markup

from dashboard.answers.among import among
from dashboard.answers.question import Question
from dashboard.answers.stand_ins import SURE
from dashboard.charts.among import spread
from dashboard.charts.style import mark_class
from dashboard.page.parts.pressable import opening, star
from dashboard.page.tabs.account import changed
from dashboard.terms.traits import trait_called
from dashboard.wording import among as words
from dashboard.wording.cautions import PROTECTED
from dashboard.wording.facts import days_apart, facts
from dashboard.wording.figures import evidence

INSTEAD = 3  # stand-ins in sight; the table below has them all
ORDER = (  # what is shown, and how the labels of its facts begin
    ("Winter chill", "Winter chill"),
    ("Bacterial spot", "Bacterial spot"),
    ("Yield per tree", "Yield per tree"),
    ("Nursery", "Nursery offers"),
)


def boxes(asked: Question) -> Markup:
    return Markup('<div class="boxes">{}<div>{}{}</div></div>').format(
        compared(asked), before(asked), instead(asked)
    )


def compared(asked: Question) -> Markup:
    """A row a trait: value, 90 % range, all cultivars as a small histogram with its dot, and where that is."""
    rows = among(asked.values, asked.cultivar, asked.profile)
    head = words.heading(max((one.known for one in rows), default=0))
    if not rows:
        return _card(head, Markup("<p>Nothing of it was measured yet.</p>"))
    lines = [
        Markup(
            '<tr><th scope="row">{}</th><td><b>{}</b> <span class="range">{}</span></td><td>{}</td><td>{}</td></tr>'
        ).format(trait_called(one.trait).heading(asked.units), *words.figures(one, asked.units), spread(one), words.stands(one))
        for one in rows
    ]  # fmt: skip
    table = Markup(
        '<table class="among"><thead class="unseen"><tr><th scope="col">Trait</th><th scope="col">Value, 90 % range</th>'
        '<th scope="col">Among all</th><th scope="col">Where it stands</th></tr></thead><tbody>{}</tbody></table>'
    ).format(Markup("").join(lines))
    foot = Markup('<p class="quiet small">{}</p>').format(
        "Gray: all cultivars. Dot and line: this one with its 90 % range. Ties count against it."
    )
    return _card(head, table + foot)


def before(asked: Question) -> Markup:
    """What it rests on, chill, disease, yield, where to buy it, and whether it needs a license."""
    assert asked.dossier is not None
    known = facts(asked.catalogue, asked.dossier, asked.units)
    row: Any = asked.rows_of((asked.cultivar,)).loc[asked.cultivar]
    lines = [("Seen in", evidence(row))]
    for label, begins in ORDER:
        told = [(one[len(begins) :].strip(" ,"), text) for one, text in known if one.startswith(begins)]
        lines.append((label, "; ".join(_with(about, text) for about, text in told) or "not recorded"))
    protected = asked.dossier["facts"]["protected"]
    lines.append(("License", PROTECTED if protected else "not recorded as protected"))
    said = Markup("").join(Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(*line) for line in lines)
    return _card("Before you order", Markup('<dl class="order">{}</dl>').format(said))


def instead(asked: Question) -> Markup:
    """The nearest stand-ins, with what surely differs."""
    known = asked.catalogue.cultivars
    lines = []
    for one in asked.stand_ins[:INSTEAD]:
        differs = [
            changed(c, asked.profile, asked.units) for c in one.changes if not c.refused and c.sure >= SURE
        ]
        own = known.loc[one.name]
        told = [days_apart(one.days), *(differs or ["no sure difference"])]
        lines.append(
            Markup('<li>{}<span class="mark {}" aria-hidden="true"></span>{}<span class="quiet small">{}</span></li>').format(
                star(one.name, one.name in asked.shortlist), mark_class(str(own["flesh_colour"]), str(own["shape_type"])),
                opening(one.name), " · ".join(told),
            )
        )  # fmt: skip
    if not lines:
        return _card("If it is sold out", Markup("<p>No cultivar of its class ripens that near.</p>"))
    return _card("If it is sold out", Markup('<ul class="instead">{}</ul>').format(Markup("").join(lines)))


def _with(about: str, text: str) -> str:
    """``650 (hours)``: what the label says beyond its name."""
    about = about.removeprefix("needed").strip()
    return f"{text} {about}".strip() if about.startswith("(") else f"{about}: {text}".removeprefix(": ")


def _card(heading: str, inside: Markup) -> Markup:
    return Markup('<section class="card"><h3>{}</h3>{}</section>').format(heading, inside)
