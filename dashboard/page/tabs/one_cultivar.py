"""Everything known about one cultivar: its card, how it compares, what to know before ordering; all else under its headings."""

from __future__ import annotations

from functools import partial
from typing import Any

import panel as pn
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.charts import calendar, standing
from dashboard.page.parts import live
from dashboard.page.parts.boxes import Column
from dashboard.page.parts.elements import ChoiceBoxes, Prose, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.parts.pressable import Fold, Pressable
from dashboard.page.parts.ticking import press, tick
from dashboard.page.tabs.account import account_told, costs_view, stand_ins_view
from dashboard.page.tabs.before_ordering import boxes
from dashboard.page.tabs.cultivar_card import card
from dashboard.page.tabs.earlier import EarlierValues
from dashboard.page.tabs.evidence import (
    chances_view,
    checks_view,
    fruit_view,
    page_of,
    samples_view,
    values_view,
)
from dashboard.visit.state import State
from dashboard.wording.boxes import choice_group
from dashboard.wording.facts import facts
from dashboard.wording.figures import site_name
from dashboard.wording.my_site import chill_facts

NOBODY = "Type a name above, or press a name in the table of the first tab."


def cultivar(state: State) -> Column:
    catalogue = state.question.catalogue
    here: dict[str, Any] = {"page": 1, "asked": 0, "name": state.cultivar}
    chooser = Finder(catalogue, lambda name: state.choose(cultivar=name), value=state.cultivar, width=340)
    top = Pressable(partial(press, state))
    record, reckoned = Prose(), Prose()
    picked = pn.pane.HoloViews(None, linked_axes=False, sizing_mode="stretch_width")
    seen = Column(  # boxes are hidden, not the pictures in them: Panel cannot hide a drawn one
        Prose(Markup("<h3>When it was picked</h3>")), picked, visible=False, sizing_mode="stretch_width"
    )
    values, checks, chances, costs = (RowTable(lambda *_: None) for _ in range(4))
    apart = ChoiceBoxes(partial(tick, state), groups=[choice_group(catalogue, "apart")], margin=(0, 10))
    others = RowTable(partial(press, state))
    samples = RowTable(lambda what, value: turn(what, value))
    fruit = RowTable(lambda *_: None, visible=False)
    before = EarlierValues(state)

    def fold(heading: str, *parts: Any) -> Fold:
        return Fold(heading, *parts, visible=False)

    market = fold("Chances and what each wish costs it", reckoned, costs, chances)
    folds = (
        fold("Everything that could stand in for it", apart, others),
        fold("What it is worth and what that rests on", values),
        fold("Beside the check cultivars", checks),
        fold("Everything on record", record),
        fold("Its samples and their fruit", samples, fruit, before.shown),
    )

    def turn(what: str, value) -> None:
        if what == "page":
            here["page"] = int(value)
            samples.tell(samples_view(state.question, here["page"]))
        elif what == "open":
            here["asked"] += 1
            fruit.tell({**fruit_view(state.question, str(value)), "asked": here["asked"]})
            fruit.visible = True
            before.of(str(value))

    def asked_for() -> None:
        """The sample that was pressed on another tab."""
        if not state.sample or state.question.dossier is None:
            return
        sample, state.sample = state.sample, ""
        folds[-1].open = True
        turn("page", page_of(state.question, sample))
        turn("open", sample)

    def show(dossier, *_others) -> None:
        here["page"] = 1
        fruit.visible = False
        before.of("")
        known = dossier is not None
        for part in folds:
            part.visible = known
        market.visible = known and state.question.profile is not None
        if not known:
            seen.visible = False
            return
        chooser.value = state.cultivar
        own = catalogue.picks[catalogue.picks["cultivar"] == state.cultivar]
        own = own.assign(site=[site_name(catalogue, site) for site in own["site"]])
        seen.visible = len(own) > 0
        if len(own):
            picked.object = standing.seasons(own, calendar.extent(catalogue.windows), catalogue.south)
        record.say(recorded(state.question))
        reckoned.say(account_told(state.question))
        values.tell(values_view(state.question))
        checks.tell(checks_view(state.question))
        costs.tell(costs_view(state.question))
        chances.tell(chances_view(state.question))
        samples.tell(samples_view(state.question, 1))
        asked_for()  # where the tab was made for it, nothing was known of the cultivar before

    def glance(*_parts) -> None:
        asked = state.question
        if asked.dossier is None:
            top.say(
                Markup('<section class="card empty"><h2>One cultivar</h2><p>{}</p></section>').format(NOBODY)
            )
        else:
            top.say(card(asked) + boxes(asked))
            if here["name"] != asked.cultivar:  # asked for further down: by the name of a stand-in
                top.bring()
        here["name"] = asked.cultivar

    def beside(*_parts) -> None:
        if state.question.dossier is None:
            return
        (group,) = apart.groups
        places = [
            at for at, option in enumerate(group["options"]) if option["value"] == str(state.question.apart)
        ]
        apart.tell([{"left": [], "chosen": places}])
        others.tell(stand_ins_view(state.question))

    live.follow(state, show, "dossier", "my_site", "units", tab="cultivar")
    live.heed(state, asked_for, "sample")
    live.follow(state, glance, "dossier", "spotlight", "stand_ins", "strip", "second_buyer", "top", "units", tab="cultivar")  # fmt: skip
    live.follow(state, beside, "stand_ins", "apart", "shortlist", "profile", "units", tab="cultivar")
    return Column(chooser, top, seen, market, *folds, sizing_mode="stretch_width")


def recorded(asked: Question) -> Markup:
    """Every fact on record, as it is written there."""
    assert asked.dossier is not None
    lines = facts(asked.catalogue, asked.dossier, asked.units) + chill_facts(asked, asked.dossier["name"])
    return Markup("<dl>{}</dl>").format(
        Markup("").join(Markup("<div><dt>{}</dt><dd>{}</dd></div>").format(*line) for line in lines)
    )
