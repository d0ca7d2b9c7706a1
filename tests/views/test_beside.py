"""Side by side on the page: chosen and taken out, drawn, written in the reader's units, and told or refused in words."""

from __future__ import annotations

import json
import re

import panel_material_ui as pmui
import pytest
from markupsafe import Markup

from dashboard import catalogue as catalogues
from dashboard.beside import Told
from dashboard.comparison import Comparison
from dashboard.estimates.comparisons import Difference
from dashboard.state import State
from dashboard.traits import TRAITS
from dashboard.views.beside import beside, fruit_told, table_view, told
from dashboard.views.differing import MORE, chance, differing, sentence
from dashboard.views.elements import ChoiceBoxes, RowTable
from dashboard.views.shortlist import shortlist
from dashboard.views.tradeoffs import tradeoffs
from tests.browser import sets
from tests.estimates.trials import trial
from tests.records.small import tables, write_folder
from tests.test_beside import of_summaries
from tests.views.conftest import Watched, said

THREE = ("Briskwell", "Candover", "Glenhollow")
NOTHING_SURE = ("Albavik", "Ardivasse")  # of the demo


@pytest.fixture
def page(state) -> tuple[State, Watched]:
    state.choose(tab="beside")
    return state, Watched(beside(state))


def typed(watched: Watched, name: str) -> None:
    watched.layout.select(pmui.AutocompleteInput)[0].value = name


def boxes(watched: Watched) -> tuple[ChoiceBoxes, list[str]]:
    """The names that stand there as tick boxes; every one is ticked."""
    (element,) = watched.layout.select(ChoiceBoxes)
    options = [option["value"] for option in element.groups[0]["options"]]
    assert json.loads(element.told)[0]["chosen"] == list(range(len(options)))
    return element, options


def pressed(layout, label: str) -> pmui.Button:
    (button,) = [one for one in layout.select(pmui.Button) if one.label == label]
    button.clicks += 1
    return button


def table(watched: Watched) -> dict:
    (element,) = watched.layout.select(RowTable)
    return json.loads(element.told)


def row(view: dict, label: str) -> list[str]:
    (cells,) = [row["cells"][1:] for row in view["rows"] if row["cells"][0] == label]
    return cells


def test_names_are_added_by_typing_and_taken_out_by_unticking(page):
    state, watched = page
    for name in THREE:
        typed(watched, name)
    assert state.comparison.beside == THREE
    element, names = boxes(watched)
    assert names == list(THREE)
    assert [column["label"] for column in table(watched)["columns"]][1:] == list(THREE)
    element._handle_msg({"field": "beside", "chosen": ["Briskwell", "Glenhollow"]})
    assert state.comparison.beside == ("Briskwell", "Glenhollow")
    assert boxes(watched)[1] == ["Briskwell", "Glenhollow"]


def test_what_is_typed_and_is_not_there_changes_nothing(page):
    state, watched = page
    typed(watched, "Nobody")
    assert state.comparison.beside == ()


def test_six_are_the_most_and_it_is_said(page, catalogue):
    state, watched = page
    names = tuple(catalogue.cultivars.index)
    for name in names[:7]:
        typed(watched, name)
    assert state.comparison.beside == names[:6]
    assert watched.layout.select(pmui.AutocompleteInput)[0].disabled
    assert "Six is the most" in said(watched.layout)


def test_a_link_with_more_than_six_shows_six_and_names_the_others(page, catalogue):
    state, watched = page
    names = tuple(catalogue.cultivars.index)
    state.choose(beside=names[:8])
    assert f"left out: {names[6]}, {names[7]}." in said(watched.layout)
    element, shown = boxes(watched)
    assert shown == list(names[:6])
    element._handle_msg({"field": "beside", "chosen": shown[1:]})
    assert state.comparison.beside == names[1:8]  # the next one moves up
    assert boxes(watched)[1] == list(names[1:7])


def test_what_was_picked_out_is_offered_and_set_at_a_press(page):
    state, watched = page
    assert "Type a name" in told(state.comparison)
    offer = next(one for one in watched.layout.select(pmui.Button) if one.label == "Set these side by side")
    assert not offer.visible
    state.choose(shortlist=THREE)
    assert offer.visible
    assert "Briskwell, Candover, Glenhollow" in said(watched.layout)
    assert state.comparison.beside == ()  # the question stays as it was asked
    pressed(watched.layout, "Set these side by side")
    assert state.comparison.beside == THREE
    assert not offer.visible


@pytest.mark.parametrize(
    ("view", "tab", "field"), [(shortlist, "shortlist", "shortlist"), (tradeoffs, "fruit", "chosen")]
)
def test_it_is_reached_from_what_was_put_aside_or_picked_out(state, catalogue, view, tab, field):
    names = tuple(catalogue.cultivars.index[:8])
    state.choose(tab=tab)
    layout = view(state)
    button = next(one for one in layout.select(pmui.Button) if one.label == "Set them side by side")
    state.choose(**{field: names[:1]})
    assert not button.visible
    state.choose(**{field: names})
    assert button.visible
    pressed(layout, "Set them side by side")
    assert (state.comparison.beside, state.tab) == (names[:6], "beside")


def test_one_alone_is_shown_and_a_second_is_asked_for(catalogue):
    asked = Comparison(catalogue, beside=("Briskwell",))
    assert "Set a second cultivar beside it" in differing(asked)
    assert row(table_view(asked), "Size (in)")[0].startswith("2.9")


def test_there_is_a_row_for_every_trait_in_the_readers_units(catalogue):
    for units in ("us", "si"):
        asked = Comparison(catalogue, beside=THREE, units=units)
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
    asked = Comparison(catalogue, beside=THREE)
    days = asked.side_by_side.days_after
    cells = row(table_view(asked), "After Glenhollow")
    assert cells[2] == "the first"
    assert cells[0] == f"{round(days['Briskwell'])} days"
    assert (
        row(table_view(Comparison(catalogue, beside=("Briskwell", "Unpicked"))), "Picked")[1] == "not known"
    )


def test_with_a_market_each_is_told_why_it_is_in_or_out(catalogue):
    asked = Comparison(catalogue, beside=THREE, market="packer")
    assert row(table_view(asked), "For Packer") == [asked.reason(name) for name in THREE]
    assert not [
        r for r in table_view(Comparison(catalogue, beside=THREE))["rows"] if r["cells"][0].startswith("For ")
    ]


def test_each_is_drawn_once_to_one_scale_with_its_words(catalogue):
    words = str(fruit_told(Comparison(catalogue, beside=THREE, units="si")))
    boxes = re.findall(r'<svg class="fruit" role="img" aria-label="([^"]*)" viewBox="([^"]*)"', words)
    assert [label.split(":")[0] for label, _ in boxes[:3]] == list(THREE)
    assert len(boxes) == 4  # the circle alone, too
    assert len({box for _, box in boxes}) == 1
    assert "<b>Glenhollow</b><br>" in words
    assert "cling stone" in words
    assert "No photo of them is on record." in words


def test_the_photograph_stands_below_the_drawing(tmp_path):
    grids = tables()
    grids["samples"] = [
        [*r, photo] for r, photo in zip(grids["samples"], ("photo", "", "S2.png", "x.jpg", ""), strict=True)
    ]
    folder = write_folder(tmp_path / "records", grids)
    (folder / "photos").mkdir()
    (folder / "photos" / "S2.png").write_bytes(b"\x89PNG\r\n\x1a\n")
    words = str(fruit_told(Comparison(catalogues.load(folder), beside=("Alvane", "Brintel"))))
    assert re.findall(r'<img class="photo" src="([^"]*)" alt="([^"]*)">', words) == [
        ("data:image/png;base64,iVBORw0KGgo=", "Photograph of Alvane, High field, 05 Jul 2024")
    ]
    assert words.count("no photo on record") == 1


BY = Difference(
    "Briskwell", "Candover", estimate=7.112, se=1.0, df=30.0, low=2.794, high=11.43, above=0.99, together=True
)


def test_a_difference_is_a_plain_sentence():
    assert sentence(Told("size", BY, 0.0032), "us") == (
        "Briskwell is larger than Candover by 0.28 in (0.11 to 0.45); chance of being mistaken about 3 in 1,000."
    )
    assert (
        sentence(Told("size", BY, 0.0032), "si").split(";")[0]
        == "Briskwell is larger than Candover by 7.1 mm (2.8 to 11.4)"
    )
    assert "7.1 points of 10" in sentence(Told("red", BY, 0.01), "us")
    assert "7 of 100 fruit" in sentence(Told("split_pit", BY, 0.01), "us")
    assert " by 7.11 (2.79 to 11.43);" in sentence(Told("roundness", BY, 0.01), "us")


def test_every_trait_has_its_own_words():
    assert set(MORE) == set(TRAITS)


@pytest.mark.parametrize(
    ("of", "words"),
    [(0.0, "under 1 in 1,000"), (0.00099, "under 1 in 1,000"), (0.001, "about 1 in 1,000"), (0.0099, "about 10 in 1,000"), (0.01, "about 1 in 100"), (0.05, "about 5 in 100")],
)  # fmt: skip
def test_no_chance_is_none(of, words):
    assert chance(of) == words


def test_real_differences_come_first_and_the_others_by_trait(demo):
    names = tuple(demo.cultivars.index[[3, 40, 77, 120, 200, 310]])
    asked = Comparison(demo, beside=names)
    found = asked.side_by_side
    words = str(differing(asked))
    assert "Sure, even after looking at 165 differences:" in words
    sure, alike = words.split("<summary><b>")
    assert sure.count("<li>") == len(found.real) > 20
    assert f"<summary>{len(found.real) - 20} more that are sure</summary>" in sure
    assert alike.startswith(f"Cannot be told apart: {len(found.alike)} of the 165</b>")
    lines = re.findall("<li>(.*?)</li>", alike)
    pairs = {
        trait: {frozenset((t.by.first, t.by.second)) for t in found.alike if t.trait == trait}
        for trait in TRAITS
    }
    labels = {trait: TRAITS[trait].label.lower() for trait in TRAITS}
    whole = [labels[trait] for trait in TRAITS if len(pairs[trait]) == 15]
    assert whole
    assert lines[0] == f"in {', '.join(whole)} no one from any other"
    some = [trait for trait in TRAITS if 0 < len(pairs[trait]) < 15]
    assert len(lines) == 1 + len(some)
    for trait, line in zip(some, lines[1:], strict=True):
        told_of = line.removeprefix(f"in {labels[trait]} ")
        named = {
            frozenset((one, other))
            for part in told_of.split("; ")
            for one, others in [part.split(" from ")]
            for other in others.split(", ")
        }
        assert named == pairs[trait]


def test_of_two_what_cannot_be_told_apart_is_one_sentence(demo):
    words = differing(Comparison(demo, beside=NOTHING_SURE))
    labels = ", ".join(trait.label.lower() for trait in TRAITS.values())
    assert f"<p><b>Cannot be told apart:</b> in {labels} the two.</p>" in words


def test_nothing_sure_is_said_to_be_so(demo):
    asked = Comparison(demo, beside=NOTHING_SURE)
    assert asked.side_by_side.differences
    assert not asked.side_by_side.real
    words = differing(asked)
    assert "Nothing is sure after looking at 11 differences" in words
    assert "Sure, even" not in words


def test_at_a_site_it_is_said_that_differences_are_over_all(catalogue):
    assert "only be told over all sites" in differing(Comparison(catalogue, beside=THREE, site="River"))
    assert "only be told over all sites" not in differing(Comparison(catalogue, beside=THREE))


def test_what_is_not_told_has_its_reason(catalogue):
    words = differing(Comparison(catalogue, beside=("Briskwell", "Unpicked")))
    assert "Unpicked has no reading of size." in words
    frame = trial(14, 2, 3)
    block = frame["cultivar"] <= "C006"
    made = of_summaries(catalogue, frame[block == (frame["site"] == "Hill")].reset_index(drop=True))
    words = differing(Comparison(made, beside=("C000", "C010")))
    assert "never shared a site in a season" in words
    raw = of_summaries(catalogue, trial().drop_duplicates("cultivar").reset_index(drop=True))
    assert Markup.escape(raw.worth["size"].plan.refused) in differing(
        Comparison(raw, beside=("C000", "C001"))
    )


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
