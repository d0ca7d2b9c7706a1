"""The hall view: made when first asked for, told what the page knows, following every choice; the page under it rests."""

from __future__ import annotations

import re

import panel as pn
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.charts import style, tradeoff
from dashboard.market.reasons import reason
from dashboard.page import app
from dashboard.page.hall import told as hall_words
from dashboard.page.hall.dress import HALL_CSS
from dashboard.page.hall.view import Hall, hall
from dashboard.page.parts.elements import RowTable
from dashboard.terms.traits import TRAITS
from dashboard.visit import network_address as reach
from dashboard.visit.saved_views import View
from dashboard.visit.state import PAIRS, State
from dashboard.wording import set_against
from dashboard.wording.cautions import PROTECTED
from tests.browser import sets
from tests.charts.test_style import contrast
from tests.page.conftest import Watched
from tests.page.hall.conftest import in_hall
from tests.pressing import press, told

ENOUGH = 7.0  # WCAG 2.2, success criterion 1.4.6, level AAA


@pytest.fixture
def shown(catalogue) -> tuple[State, Hall]:
    return in_hall(catalogue, "?v=1&market=packer&look=hall")


def test_it_is_not_made_before_it_is_asked_for(state):
    whole = hall(state)
    assert not whole.select(Hall)
    state.choose(flesh_colour=("white",))
    assert not whole.select(Hall)
    state.choose(look="hall")
    assert len(whole.select(Hall)) == 1
    state.choose(look="page")
    state.choose(look="hall")
    assert len(whole.select(Hall)) == 1


def test_it_says_what_the_marks_mean_that_are_drawn(shown):
    state, element = shown
    assert [meaning for _, meaning in told(element)["marks"]] == [
        "yellow",
        "white",
        "red",
        "not recorded",
        "flat",
    ]
    state.choose(flesh_colour=("white",), shape_type=("round",))
    assert told(element)["marks"] == [["white round", "white"]]


def test_it_tells_of_the_first_of_the_ranking_what_the_ranking_says(shown):
    state, element = shown
    asked = state.question
    first = asked.ranking.index[0]
    spot = told(element)["spot"]
    row = asked.ranking.loc[first]
    assert (spot["name"], spot["place"]) == (
        first,
        f"1 of {asked.market_counts['packer'].qualify} that qualify",
    )
    state.choose(market="")
    assert told(element)["spot"]["place"] == f"1 of {len(asked.ranking)}"
    state.choose(market="packer")
    assert spot["why"] == reason(asked.profile, asked.fit.loc[first], "us")
    size = next(figure for figure in spot["figures"] if figure["label"] == "size")
    assert size["value"] == f"{TRAITS['size'].written(row['size'], 'us')} in"
    assert size["between"] == " to ".join(
        TRAITS["size"].written(row[f"size_{end}"], "us") for end in ("low", "high")
    )
    assert dict(spot["stands"])["score, 0 to 100"].startswith(f"{100 * row['score']:.0f}")


def test_the_sentence_names_market_filters_and_what_is_left(shown):
    state, element = shown
    state.choose(flesh_colour=("white",), seasons=2)
    said = told(element)["asked"]
    asked = state.question
    assert said.startswith(f"{asked.profile.name}: {int(asked.passes.sum())} of ")
    assert "white" in said
    assert "2 seasons or more" in said
    words = asked.fit["verdict"].to_numpy()[asked.passes]
    assert f"{(words == 'qualifies').sum()} qualify, {(words == 'may qualify').sum()} more may" in said


def test_filters_and_limits_are_told_where_they_describe_what_is_seen(shown):
    state, element = shown
    asked, limits = told(element)["asked"], told(element)["limits"]
    assert limits.startswith("Limits: ")
    colour = state.question.catalogue.cultivars.at["Candover", "flesh_colour"]
    others = tuple(one for one in ("yellow", "white", "red") if one != colour)
    state.choose(flesh_colour=others, cultivar="Candover")
    assert told(element)["asked"].startswith(hall_words.question(state.question))
    assert told(element)["asked"].endswith("Candover is not in these filters.")
    assert told(element)["spot"]["place"] == "not in these filters"
    state.choose(tab="cultivar")
    assert told(element)["asked"] == "Candover is not in these filters."
    assert (told(element)["limits"], told(element)["spot"]["figures"]) == (
        limits,
        [],
    )  # it is judged; its figures stand beside it
    assert told(element)["form"]["drawn"].count("(") >= 3
    state.choose(tab="beside", beside=("Candover", "Aldermere"))
    assert (told(element)["asked"], told(element)["limits"]) == ("", "")
    state.choose(ripeness="equal")
    assert told(element)["asked"] == "Size and sugar at equal firmness."
    state.choose(tab="season", ripeness="picked", shortlist=("Candover",))
    assert told(element)["asked"].endswith("what is on my slate, in these filters or not.")
    state.choose(shortlist=(), flesh_colour=())
    assert (told(element)["asked"], told(element)["limits"]) == (asked, limits)


def test_a_picture_that_is_not_the_prepared_view_s_is_told_to_be_another(shown):
    state, element = shown
    state.choose(tab="season")
    state.prepare("The season")
    state.open_prepared(0)
    for away in (
        lambda: press(element.finder, {"take": "Candover"}),
        lambda: press(element, {"act": "limit"}),
    ):
        assert (told(element)["view"], told(element)["strayed"]) == ("The season", False)
        away()
        assert told(element)["strayed"]
        press(element, {"act": "close"})


def test_what_is_invented_and_what_is_protected_is_said_where_it_is_shown(demo):
    assert demo.invented
    state, element = in_hall(demo, "?v=1&look=hall")
    assert told(element)["legend"].startswith("Invented example.")
    for protected, name in (
        (flag, demo.cultivars.index[demo.cultivars["protected"] == flag][0]) for flag in (True, False)
    ):
        state.choose(cultivar=name)
        assert told(element)["spot"]["caution"] == (PROTECTED if protected else "")


KEYS = {
    "the next cultivar": ({"act": "step", "by": 1}, lambda s: s.cultivar == s.question.ranking.index[1]),
    "the star": ({"act": "keep"}, lambda s: s.shortlist == (s.question.spotlight.name,)),
    "another picture": ({"act": "traits"}, lambda s: s.pair == "firmness_sugar" and "pair=firmness_sugar" in s.link),
    "leave": ({"act": "leave"}, lambda s: s.look == "page"),
    "a view": ({"act": "view", "by": 1}, lambda s: s.flesh_colour == ("white",) and s.look == "hall"),
    "nothing": ({"act": "no such"}, lambda s: s.link == "?v=1&market=packer&look=hall"),
    "nothing to lay over it": ({"act": "over", "what": "step"}, lambda s: s.link == "?v=1&market=packer&look=hall"),
    "a far step": ({"act": "step", "by": 10**9}, lambda s: s.cultivar == ""),
}  # fmt: skip


@pytest.mark.parametrize(("message", "holds"), KEYS.values(), ids=KEYS)
def test_a_key_does_what_it_says(shown, message, holds):
    state, element = shown
    state.prepared = (View("white", "?v=1&market=packer&flesh_colour=white"),)
    press(element, message)
    assert holds(state)


def test_a_cultivar_that_was_found_is_spoken_of(shown):
    state, element = shown
    press(element.finder, {"take": "<b>"})
    assert state.cultivar == ""
    press(element.finder, {"take": "Candover"})
    assert state.cultivar == "Candover"


def test_each_picture_has_its_own_axes_and_limits_and_the_first_comes_again(shown):
    state, element = shown
    state.choose(units="si")
    figure = element.picture.object
    seen = {}
    for _ in PAIRS:
        after = PAIRS[(PAIRS.index(state.pair) + 1) % len(PAIRS)]
        assert told(element)["legend"].endswith(f" T shows {hall_words.picture_told(after).lower()}.")
        seen[state.pair] = (tuple(told(element)["axes"]), figure.x_range.end, figure.y_range.end)
        press(element, {"act": "traits"})
    assert tuple(seen) == PAIRS
    assert len(set(seen.values())) == len({axes for axes, *_ in seen.values()}) == 3
    assert seen["size_sugar"][1] == seen["size_firmness"][1]  # size lies across in both, on the same axis
    assert state.pair == PAIRS[0]
    state.choose(pair="size_firmness")
    state.prepare("Firm")
    state.choose(pair=PAIRS[0])
    press(element, {"act": "view", "by": 1})
    assert state.pair == "size_firmness"  # a prepared view brings its picture along


def test_a_star_is_taken_back_and_made_again_in_the_hall(shown):
    state, element = shown
    press(element, {"act": "keep"})
    assert told(element)["spot"]["kept"]
    assert "undo" in told(element)["keys"]
    press(element, {"act": "undo"})
    assert not told(element)["spot"]["kept"]
    assert "redo" in told(element)["keys"]
    press(element, {"act": "redo"})
    assert told(element)["spot"]["kept"]
    assert state.look == "hall"


def test_a_tapped_mark_is_spoken_of_and_no_other_mark_is_dimmed(shown, catalogue):
    state, element = shown
    figure = element.picture.object
    source = next(one.data_source for one in figure.renderers if "mark" in one.data_source.data)
    source.selected.indices = [3]
    assert state.cultivar == catalogue.cultivars.index[3]
    assert source.selected.indices == []
    spotted = [one.view.filter for one in figure.renderers if one.view.filter.name == "spot"]
    assert all(list(rows.indices) == [3] for rows in spotted)


def address_of(element) -> str:
    return told(element)["code"]["address"]


def test_the_code_is_for_the_ordinary_page_of_the_view_that_stands(shown, monkeypatch):
    state, element = shown
    monkeypatch.setenv(reach.LISTENS, "0.0.0.0")
    monkeypatch.setattr(reach, "own_address", lambda: "192.168.1.20")
    assert told(element)["code"] is None
    code = {"act": "over", "what": "code", "at": "http://localhost:5006/"}
    press(element, code)
    first, *_, last = map(str, state.question.ranking.index)
    start = "http://192.168.1.20:5006/?v=1&market=packer&cultivar="
    assert address_of(element) == f"{start}{first.replace(' ', '+')}&tab=cultivar"
    press(element, code)
    for tab, shown_there in (
        ("cultivar", f"&cultivar={last.replace(' ', '+')}&tab=cultivar"),
        ("season", "&tab=season"),
    ):
        state.choose(tab=tab, cultivar=last)
        press(element, code)
        address = address_of(element)
        # a phone shows what is on the screen: who is spoken of, or a view that speaks of nobody
        assert address.endswith(shown_there)
        assert State(state.question.catalogue, "?" + address.partition("?")[2]).tab == tab
        press(element, code)
    assert told(element)["code"] is None


@pytest.mark.parametrize(
    ("listens", "own", "view", "why"),
    [
        ("localhost", "10.0.0.7", "?v=1", reach.ALONE),
        ("0.0.0.0", "", "?v=1", reach.NOWHERE),
        ("0.0.0.0", "10.0.0.7", "?v=1&own=" + "x" * 4000, hall_words.TOO_LONG),
    ],
)
def test_where_there_is_no_code_it_says_why(monkeypatch, listens, own, view, why):
    monkeypatch.setenv(reach.LISTENS, listens)
    monkeypatch.setattr(reach, "own_address", lambda: own)
    assert hall_words.code_told("http://localhost:5006/", view) == {"why": why}


def test_while_the_hall_is_open_the_page_rests_and_catches_up_when_it_is_left(catalogue):
    state = State(catalogue, "?v=1&market=packer")
    page = pn.Column(app.tabs_of(state), hall(state))
    watched = Watched(page)
    (table,) = page.select(RowTable)
    before = table.told
    state.choose(look="hall")
    state.choose(flesh_colour=("white",))
    assert table.told == before
    sent = watched.sent(lambda: state.choose(look="page"))
    assert table.told != before
    assert sum(times for (kind, _), times in sent.items() if kind == "table") == 1
    (element,) = page.select(Hall)
    assert told(element) == {"open": False}
    state.choose(flesh_colour=())
    assert told(element) == {"open": False}


def test_a_page_opened_in_the_hall_makes_no_tab_until_it_is_left(catalogue):
    state = State(catalogue, "?v=1&look=hall")
    tabs = app.tabs_of(state)
    assert len(tabs) == 1  # the bar alone
    state.choose(look="page")
    assert len(tabs) == 2


def test_hostile_names_are_text_and_the_drawing_is_escaped(tmp_path):
    known = catalogues.load(sets.hostile(tmp_path / "hostile"))
    state, element = in_hall(known, "?v=1&market=hostile&look=hall")
    for name in sets.HOSTILE_NAMES:
        state.choose(cultivar=name)
        spot = told(element)["spot"]
        assert spot["name"] == name
        assert not re.search(r"<(img|script|b|table|/td)\b", spot["fruit"])


@pytest.mark.parametrize("colours", [style.NAMED, style.DARK], ids=["light paper", "dark paper"])
def test_every_text_is_seen_from_the_back_row(colours):
    texts, grounds = (
        set(re.findall(rf"(?<![-a-z]){what}: var\(--(\w+)", HALL_CSS)) for what in ("color", "background")
    )
    assert {"ink", "spot"} <= texts
    assert "paper" in grounds
    assert {
        (text, ground): contrast(colours[text], colours[ground])
        for text in texts
        for ground in grounds
        if contrast(colours[text], colours[ground]) < ENOUGH
    } == {}


def test_my_slate_is_a_strip_that_a_star_draws_anew_and_that_lets_go_with_the_last(shown):
    state, element = shown
    assert told(element.days)["days"] == 0
    assert told(element)["slate"] == ""
    press(element, {"act": "keep"})
    (name,) = state.shortlist
    assert [bar["name"] for bar in told(element.days)["bars"]] == [name]
    assert told(element.days)["rows"][0]["cells"]
    before = state.view
    for message in (
        {"fill": True},
        {"end": 0, "by": 9},
        {"certainty": 6},
        {"open": "<b>"},
        {"gap": [0, 1], "row": 0},
    ):
        press(element.days, message)
    assert state.view == before  # what is set on the page's strip is not set here
    press(element, {"act": "step", "by": 1})
    press(element.days, {"open": name})
    assert (state.cultivar, state.look) == (name, "hall")
    press(element, {"act": "keep"})
    assert told(element.days)["days"] == 0


def test_its_rings_are_the_page_s(demo):
    """Both draw a ring where the chance of not being beaten is told, as full as it is sure."""
    state, element = in_hall(demo, "?v=1&market=regional_wholesale&look=hall")
    figure = element.picture.object
    source = next(r.data_source for r in figure.renderers if "sure" in r.data_source.data)
    expected = tradeoff.rings(state.question.sure_not_beaten, state.question.not_beaten)
    assert list(source.data["sure"]) == expected
    shown = {
        tuple(view.filter.indices)
        for r in figure.renderers
        if (view := getattr(r, "view", None)) and view.filter.name == "ringed"
    }
    assert shown == {tuple(row for row, part in enumerate(expected) if part > 0)}


def test_home_is_the_first_view_and_its_note_is_told(season_shown):
    state, element = season_shown
    state.prepared = (View("one", "?v=1&flesh_colour=white", "say hello"), View("two", "?v=1"))
    state.open_prepared(1)
    press(element, {"act": "first"})
    assert (state.prepared_at, state.flesh_colour, told(element)["note"]) == (0, ("white",), "say hello")


def test_the_slate_is_told_in_one_line_and_two_are_set_against_each_other(season_shown):
    state, element = season_shown
    assert told(element)["slate"] == ""  # the season says it itself
    state.choose(tab="fruit")
    assert told(element)["slate"].startswith("1 on my slate. ")
    press(element, {"act": "over", "what": "against"})
    assert len(told(element)["against"]) == 3 + set_against.SHOWN
    press(element, {"act": "over", "what": "against"})
    assert told(element)["against"] is None
    state.choose(shortlist=())
    assert told(element)["slate"] == ""
