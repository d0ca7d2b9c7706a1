"""Everything known about one cultivar: its class, where it stands, when it is picked, what it rests on."""

from __future__ import annotations

from functools import partial
from typing import Any

import panel as pn
from markupsafe import Markup

from dashboard.answers.question import Comparison
from dashboard.charts import calendar, standing
from dashboard.page.parts import listing, live
from dashboard.page.parts.boxes import Column, Wrapped
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.parts.ticking import choice_group, tick
from dashboard.page.tabs.account import account_told, costs_view, stand_ins_view
from dashboard.page.tabs.evidence import chances_view, checks_view, fruit_view, samples_view, values_view
from dashboard.visit.state import State
from dashboard.wording.facts import facts
from dashboard.wording.figures import site_name


def cultivar(state: State) -> Column:
    catalogue = state.comparison.catalogue
    here = {"page": 1}
    chooser = Finder(catalogue, lambda name: state.choose(cultivar=name), value=state.cultivar, width=340)
    keep = live.button(
        "Put on the shortlist", lambda: state.keep(state.cultivar), variant="outlined", visible=False
    )
    words = Prose()
    stands = pn.pane.HoloViews(None, linked_axes=False, sizing_mode="stretch_width")
    picked = pn.pane.HoloViews(None, linked_axes=False, sizing_mode="stretch_width")
    half: dict[str, Any] = {"styles": {"flex": "1 1 420px", "min-width": "min(300px, 100%)"}}
    left = Column(Prose(Markup("<h3>Where it stands among all cultivars</h3>")), stands, **half)
    right = Column(Prose(Markup("<h3>When it was picked</h3>")), picked, **half)
    pictures = Wrapped(  # boxes are hidden, not the pictures in them: Panel cannot hide a drawn one
        left,
        right,
        visible=False,
    )
    values, checks, chances, costs = (RowTable(lambda *_: None, visible=False) for _ in range(4))
    apart = ChoiceBoxes(
        partial(tick, state), groups=[choice_group(catalogue, "apart")], margin=(0, 10), visible=False
    )
    others = RowTable(partial(listing.press, state), visible=False)
    samples = RowTable(lambda what, value: turn(what, value), visible=False)
    fruit = RowTable(lambda *_: None, visible=False)

    def turn(what: str, value) -> None:
        if what == "page":
            here["page"] = int(value)
            samples.tell(samples_view(state.comparison, here["page"]))
        elif what == "open":
            fruit.tell(fruit_view(state.comparison, str(value)))
            fruit.visible = True

    def show(dossier, units: str) -> None:
        here["page"] = 1
        fruit.visible = False
        known = dossier is not None
        for part in (pictures, values, checks, samples, keep, apart, others):
            part.visible = known
        nothing = Markup("<p>{}</p>").format(
            "Type a name above, or press a name in the table of the first tab."
        )
        words.say(told(state.comparison) if known else nothing)
        if not known:
            return
        chooser.value = state.cultivar
        rows = standing.standings(state.comparison.values, state.cultivar, units)
        left.visible = len(rows) > 0
        if len(rows):
            stands.object = standing.standing(rows)
        own = catalogue.picks[catalogue.picks["cultivar"] == state.cultivar]
        own = own.assign(site=[site_name(catalogue, site) for site in own["site"]])
        right.visible = len(own) > 0
        if len(own):
            picked.object = standing.seasons(own, calendar.extent(catalogue.windows), catalogue.south)
        values.tell(values_view(state.comparison))
        checks.tell(checks_view(state.comparison))
        chances.visible = costs.visible = state.comparison.profile is not None
        costs.tell(costs_view(state.comparison))
        chances.tell(chances_view(state.comparison))
        samples.tell(samples_view(state.comparison, 1))

    def kept(shortlist: tuple, name: str) -> None:
        keep.label = "Take off the shortlist" if name in shortlist else "Put on the shortlist"

    live.follow(state, show, "dossier", "units", tab="cultivar")

    def beside(*_parts) -> None:
        if state.comparison.dossier is None:
            return
        (group,) = apart.groups
        places = [
            at for at, option in enumerate(group["options"]) if option["value"] == str(state.comparison.apart)
        ]
        apart.tell([{"left": [], "chosen": places}])
        others.tell(stand_ins_view(state.comparison))

    live.follow(state, beside, "stand_ins", "apart", "shortlist", "profile", "units", tab="cultivar")
    live.follow(state, kept, "shortlist", "cultivar", tab="cultivar")
    return Column(
        Wrapped(chooser, keep),
        words,
        pictures,
        costs,
        chances,
        apart,
        others,
        values,
        checks,
        samples,
        fruit,
        sizing_mode="stretch_width",
    )


def told(asked: Comparison) -> Markup:
    """The cultivar's facts, its fit to the market in one sentence, and the cautions that belong to it."""
    dossier = asked.dossier
    assert dossier is not None
    said = Markup("<h2>{}</h2>").format(asked.cultivar)
    if asked.profile:
        name = asked.profile.name
        said += Markup("<p><b>{}:</b> {}</p>").format(name, asked.reason(asked.cultivar))
        said += account_told(asked)
    lines = facts(asked.catalogue, dossier, asked.units)
    said += Markup("<dl>{}</dl>").format(
        Markup("").join(Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(*line) for line in lines)
    )
    if dossier["facts"]["protected"]:
        said += Markup(
            "<p>Protected: it may not be propagated without a licence from the owner of the right.</p>"
        )
    return said
