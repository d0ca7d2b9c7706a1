"""Side by side on the page: chosen and taken out, drawn, written in the reader's units, and told or refused in words."""

from __future__ import annotations

import json
import re

import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.page.parts.buttons import Button
from dashboard.page.parts.elements import ChoiceBoxes, RowTable
from dashboard.page.parts.finding import Finder
from dashboard.page.parts.pressable import Pressable
from dashboard.page.tabs.differing import differing
from dashboard.page.tabs.my_slate import CAUTION, my_slate
from dashboard.page.tabs.side_by_side import beside, fruit_told, table_view, told
from dashboard.page.tabs.side_by_side_grid import grid
from dashboard.page.tabs.tradeoffs import tradeoffs
from dashboard.terms.traits import TRAITS
from dashboard.visit.state import State
from tests.browser import sets
from tests.page.conftest import Watched, said
from tests.pressing import press

THREE = ("Briskwell", "Candover", "Glenhollow")


@pytest.fixture
def page(state) -> tuple[State, Watched]:
    state.choose(tab="beside")
    return state, Watched(beside(state))


def finder(watched: Watched) -> Finder:
    (element,) = watched.layout.select(Finder)
    return element


def typed(watched: Watched, name: str) -> None:
    press(finder(watched), {"take": name})


def boxes(watched: Watched) -> tuple[ChoiceBoxes, list[str]]:
    """The names that stand there as tick boxes; every one is ticked."""
    (element,) = watched.layout.select(ChoiceBoxes)
    options = [option["value"] for option in element.groups[0]["options"]]
    assert json.loads(element.told)[0]["chosen"] == list(range(len(options)))
    return element, options


def pressed(layout, label: str) -> Button:
    (button,) = [one for one in layout.select(Button) if one.label == label]
    press(button)
    return button


def table(watched: Watched) -> dict:
    (element,) = watched.layout.select(RowTable)
    return json.loads(element.told)


def grid_said(watched: Watched) -> str:
    """The grid as it stands there; "" while none does."""
    return next((one.words for one in watched.layout.select(Pressable) if "sides" in one.words), "")


def row(view: dict, label: str) -> list[str]:
    (cells,) = [row["cells"][1:] for row in view["rows"] if row["cells"][0] == label]
    return cells


def test_names_are_added_by_typing_and_taken_out_by_unticking(page):
    state, watched = page
    for name in THREE:
        typed(watched, name)
    assert state.question.beside == THREE
    element, names = boxes(watched)
    assert names == list(THREE)
    assert [column["label"] for column in table(watched)["columns"]][1:] == list(THREE)
    press(element, {"field": "beside", "chosen": ["Briskwell", "Glenhollow"]})
    assert state.question.beside == ("Briskwell", "Glenhollow")
    assert boxes(watched)[1] == ["Briskwell", "Glenhollow"]


def test_what_is_typed_and_is_not_there_changes_nothing(page):
    state, watched = page
    typed(watched, "Nobody")
    assert state.question.beside == ()


def test_six_are_the_most_and_it_is_said(page, catalogue):
    state, watched = page
    names = tuple(catalogue.cultivars.index)
    for name in names[:7]:
        typed(watched, name)
    assert state.question.beside == names[:6]
    assert finder(watched).disabled
    assert "Six is the most" in said(watched.layout)


def test_a_link_with_more_than_six_shows_six_and_names_the_others(page, catalogue):
    state, watched = page
    names = tuple(catalogue.cultivars.index)
    state.choose(beside=names[:8])
    assert f"left out: {names[6]}, {names[7]}." in said(watched.layout)
    element, shown = boxes(watched)
    assert shown == list(names[:6])
    press(element, {"field": "beside", "chosen": shown[1:]})
    assert state.question.beside == names[1:8]  # the next one moves up
    assert boxes(watched)[1] == list(names[1:7])


def test_what_was_picked_out_is_offered_and_set_at_a_press(page):
    state, watched = page
    assert "Type a name" in told(state.question)
    assert grid_said(watched) == ""
    offer = next(one for one in watched.layout.select(Button) if one.label == "Set these side by side")
    assert not offer.visible
    state.choose(shortlist=THREE)
    assert offer.visible
    assert "Briskwell, Candover, Glenhollow" in said(watched.layout)
    assert state.question.beside == ()  # the question stays as it was asked
    pressed(watched.layout, "Set these side by side")
    assert state.question.beside == THREE
    assert not offer.visible


@pytest.mark.parametrize(
    ("view", "tab", "field"), [(my_slate, "shortlist", "shortlist"), (tradeoffs, "fruit", "chosen")]
)
def test_it_is_reached_from_what_was_put_aside_or_picked_out(state, catalogue, view, tab, field):
    names = tuple(catalogue.cultivars.index[:8])
    state.choose(tab=tab, shown="pictures")
    layout = view(state)

    def offered() -> list[str]:
        return [
            one.label for one in layout.select(Button) if one.label.endswith("side by side") and one.visible
        ]

    state.choose(**{field: names[:1]})
    assert not offered()
    state.choose(**{field: names})
    (label,) = offered()
    pressed(layout, label)
    first = names
    if field == "shortlist":  # as its table stands: in the order of picking
        assert label == "Set the first 6 side by side"
        first = tuple(state.question.shortlisted["middle"].sort_values().index)
    assert (state.question.beside, state.tab) == (first[:6], "beside")


def test_one_alone_is_shown_and_a_second_is_asked_for(catalogue):
    asked = Question(catalogue, beside=("Briskwell",))
    assert "Set a second cultivar beside it" in differing(asked)
    assert row(table_view(asked), "Size (in)")[0].startswith("2.9")


def test_there_is_a_row_for_every_trait_in_the_readers_units(catalogue):
    for units in ("us", "si"):
        asked = Question(catalogue, beside=THREE, units=units)
        view = table_view(asked)
        for key, trait in TRAITS.items():
            for name, cell in zip(THREE, row(view, trait.heading(units)), strict=True):
                own = asked.values[key].loc[name]
                low, high = trait.written(own["low"], units), trait.written(own["high"], units)
                known = f" ({low}–{high})" if own["low"] == own["low"] else " (?)"
                assert cell == trait.written(own["estimate"], units) + known
        assert row(view, "Samples") == ["12", "10", "6"]
        assert row(view, "Seasons of evidence") == ["4", "3", "2"]


def test_days_are_counted_from_the_earliest(catalogue):
    asked = Question(catalogue, beside=THREE)
    days = asked.side_by_side.days_after
    cells = row(table_view(asked), "After Glenhollow")
    assert cells[2] == "the first"
    assert cells[0] == f"{round(days['Briskwell'])} days"
    assert row(table_view(Question(catalogue, beside=("Briskwell", "Unpicked"))), "Picked")[1] == "not known"


def test_with_a_market_each_is_told_why_it_is_in_or_out(catalogue):
    asked = Question(catalogue, beside=THREE, market="packer")
    assert row(table_view(asked), "For Packer") == [asked.reason(name) for name in THREE]
    assert not [
        r for r in table_view(Question(catalogue, beside=THREE))["rows"] if r["cells"][0].startswith("For ")
    ]


def test_the_best_four_of_the_market_are_set_at_a_press(page):
    state, watched = page
    best = next(one for one in watched.layout.select(Button) if one.label == "Set the best four side by side")
    assert not best.visible  # nothing is ranked without a market
    state.choose(market="packer")
    assert best.visible
    pressed(watched.layout, "Set the best four side by side")
    assert state.question.beside == tuple(state.question.ranking.index[:4])
    assert not best.visible


def test_a_star_in_the_grid_puts_on_the_slate_and_a_name_opens_its_cultivar(page):
    state, watched = page
    state.choose(beside=THREE)
    whole = next(one for one in watched.layout.select(Pressable) if "sides" in one.words)
    press(whole, {"keep": "Candover"})
    assert state.question.shortlist == ("Candover",)
    assert "Take off my slate: Candover" in whole.words
    press(whole, {"open": "Candover"})
    assert (state.tab, state.cultivar) == ("cultivar", "Candover")


def rows_of(words: str) -> dict[str, tuple[list[bool], str]]:
    """Of each row of a grid: which cells are shaded, and what its last column says."""
    found = {}
    for line in re.findall(r'<tr><th scope="row">(.*?)</tr>', words):
        label = line.partition("</th>")[0]
        shaded = [look == "better" for look in re.findall(r'<td class="(better|plain)">', line)]
        found[label] = (shaded, re.findall(r'<td class="says">(.*?)</td>', line)[0])
    return found


def test_what_is_surely_better_is_shaded_and_said(demo):
    names = ("Sibbrel", "Brovet", "Whelundo", "Vintoquet")
    asked = Question(demo, beside=names)
    found = rows_of(str(grid(asked)))
    for key, trait in TRAITS.items():
        real = [one.by for one in asked.side_by_side.real if one.trait == key]
        better = {one.second if trait.better == "less" else one.first for one in real}
        shaded, said_of = found[trait.heading("us")]
        if trait.better == "depends":
            assert not any(shaded)
            assert said_of.startswith("surely higher: ") == bool(better)
        else:
            assert [name for name, one in zip(names, shaded, strict=True) if one] == [
                n for n in names if n in better
            ]
            told_of = ", ".join(name for name in names if name in better)
            assert said_of == (f"surely better: {told_of}" if better else "no sure difference")
    assert {one for shaded, _ in found.values() for one in shaded} == {True, False}


def test_a_trait_whose_differences_are_refused_says_so_and_shades_nothing(catalogue):
    asked = Question(catalogue, beside=("Briskwell", "Unpicked"))
    found = rows_of(str(grid(asked)))
    for trait in TRAITS.values():
        assert found[trait.heading("us")] == ([False, False], "cannot be told")
    assert "not known" in str(grid(asked))


def test_every_dot_of_a_row_is_on_one_axis(demo):
    asked = Question(demo, beside=("Sibbrel", "Brovet", "Whelundo"))
    line = str(grid(asked)).split(TRAITS["size"].heading("us"))[1].split("</tr>")[0]
    at = [float(one) for one in re.findall(r"--a:([\d.]+)", line)]
    sizes = asked.values["size"].loc[list(asked.beside), "estimate"].to_numpy()
    slope = (at[1] - at[0]) / (sizes[1] - sizes[0])
    assert slope > 0
    assert at[2] - at[0] == pytest.approx(slope * (sizes[2] - sizes[0]), abs=0.01)


def test_each_is_drawn_once_to_one_scale_with_its_words(catalogue):
    asked = Question(catalogue, beside=THREE, units="si")
    words = str(grid(asked)) + str(fruit_told(asked))
    boxes = re.findall(r'<svg class="fruit" role="img" aria-label="([^"]*)" viewBox="([^"]*)"', words)
    assert [label.split(":")[0] for label, _ in boxes[:3]] == list(THREE)
    assert len(boxes) == 3
    assert len({box for _, box in boxes}) == 1
    assert "the dashed circle 2½ in" in words
    assert "clingstone" in words
    assert "No photo of them is on record." in words


def test_the_caution_stands_below(page):
    state, watched = page
    assert CAUTION not in said(watched.layout)
    state.choose(beside=THREE)
    assert CAUTION in said(watched.layout)


def test_hostile_names_stay_text_in_every_part(tmp_path):
    known = catalogues.load(sets.hostile(tmp_path / "hostile"))
    for names in (sets.HOSTILE_NAMES[:6], sets.HOSTILE_NAMES[4:]):
        state = State(known, "?v=1&tab=beside")
        watched = Watched(beside(state))
        state.choose(beside=names, market="hostile")
        words = said(watched.layout)
        assert not re.search(r"<(img|script|svg onload|b onmouseover)", words)
        assert [column["label"] for column in table(watched)["columns"]][1:] == list(names)


def test_a_filter_leaves_what_is_side_by_side_alone(page):
    state, watched = page
    state.choose(beside=THREE)
    assert watched.kinds(lambda: state.choose(stone=("cling",))) == set()
    assert "table" in watched.kinds(lambda: state.choose(units="si"))
    assert watched.kinds(lambda: state.choose(chosen=("Candover",))) == set()
