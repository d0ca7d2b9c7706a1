"""The market editor without a browser: what it is told, what its messages do, and what it says when they cannot be followed."""

from __future__ import annotations

import base64
import json

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from dashboard.market.statements import OWN
from dashboard.page.frame.filters import filters
from dashboard.page.frame.market import MarketEditor, market_editor
from dashboard.visit.state import State
from tests.pressing import press

EVIL = "<img src=x onerror=window.hurt=1>"


class Visit:
    """One visitor at the editor; ``do(…)`` is a message of the browser."""

    def __init__(self, catalogue, query: str = ""):
        self.state = State(catalogue, query)
        self.editor = market_editor(self.state)
        self.ticks = 0

    def do(self, *changes: list, **more) -> dict:
        self.ticks += 1
        press(self.editor, {"tick": self.ticks, "set": list(changes), **more})
        assert self.told["tick"] == self.ticks
        return self.told

    @property
    def told(self) -> dict:
        return json.loads(self.editor.told)

    def part(self, what: str, title: str) -> str:
        (found,) = (
            part["id"] for part in self.told["parts"] if (part["what"], part["title"]) == (what, title)
        )
        return found

    def fields(self, what: str, title: str) -> dict[str, str]:
        (part,) = (part for part in self.told["parts"] if part["id"] == self.part(what, title))
        return {name: text for name, _, text in part["fields"]}

    def open(self, content: bytes, file: str = "mine.toml") -> dict:
        return self.do(act="open", file=file, size=len(content), content=base64.b64encode(content).decode())

    def saved(self) -> dict:
        self.do(act="save")
        return json.loads(self.editor.saved)


@pytest.fixture
def packer(catalogue, prepared) -> Visit:
    return Visit(catalogue, "?v=1&market=packer")


def test_it_shows_the_market_as_it_is_written(packer):
    assert packer.told["standing"] == "Packer, as it is written."
    assert packer.told["back"] == ""
    assert [(part["what"], part["title"]) for part in packer.told["parts"]] == [
        ("limit", "Flesh color"), ("limit", "Size"), ("limit", "Sugar"), ("wish", "Size"), ("wish", "Firmness"), ("wish", "Sugar"),
    ]  # fmt: skip
    assert packer.fields("limit", "Size") == {"at_least": "2.5", "at_most": "", "share": "80", "seasons": ""}
    assert ["yellow", True] in packer.told["parts"][0]["words"]
    assert ["not recorded", False] in packer.told["parts"][0]["words"]


def test_a_change_asks_anew_and_its_undoing_is_the_market_as_it_is_written(packer):
    wish = packer.part("wish", "Sugar")
    packer.do([wish, "weight", "9"])
    assert packer.state.question.profile.wishes[-1].weight == 9
    assert packer.told["standing"] == "Packer, with your changes."
    assert packer.told["back"] == "Back to the market as it is written"
    packer.do([wish, "weight", "1"])
    assert packer.state.own == ()
    packer.do([packer.part("limit", "Flesh color"), "word white", True], [wish, "weight", "2"])
    assert packer.state.question.profile.limits[0].any_of == ("yellow", "white")
    packer.do(act="back")
    assert packer.state.own == ()
    assert packer.fields("wish", "Sugar")["weight"] == "1"


def test_one_message_asks_one_question(packer):
    asked = []
    packer.state.param.watch(asked.append, "question")
    packer.do([packer.part("wish", "Sugar"), "weight", "3"], [packer.part("limit", "Size"), "share", "60"])
    assert len(asked) == 1


def test_parts_keep_their_names_while_they_are_changed_here_and_get_new_ones_from_elsewhere(packer):
    before = [part["id"] for part in packer.told["parts"]]
    packer.do([before[-1], "weight", "3"])
    assert [part["id"] for part in packer.told["parts"]] == before
    packer.state.follow("?v=1&market=open")
    assert [part["title"] for part in packer.told["parts"]] == ["Sugar"]


def test_units_are_the_reader_s_and_change_no_bound(packer):
    packer.do([packer.part("limit", "Size"), "at_least", "2.25"])
    own = packer.state.own
    packer.do(["", "name", "Mine"])
    packer.state.choose(units="si")
    assert packer.fields("limit", "Size")["at_least"] == "57.15"
    packer.do([packer.part("wish", "Sugar"), "weight", "1"])
    assert packer.state.own == own
    assert packer.told["name"] == "Mine"


@pytest.mark.parametrize(
    ("what", "title", "field", "text", "told"),
    [
        ("limit", "Sugar", "at_least", "", "has no bound"), ("limit", "Sugar", "at_least", "sweet", "must be a number"),
        ("limit", "Size", "at_most", "2", "is above at most"), ("limit", "Size", "share", "120", "at most 100"),
        ("wish", "Sugar", "from", "20", "must be below"), ("wish", "Sugar", "weight", "0", "must be above 0"),
        ("wish", "Sugar", "weight", "-3", "must be above 0"), ("wish", "Firmness", "ideal", "", "is missing"),
        ("wish", "Sugar", "from", EVIL, EVIL),
    ],
)  # fmt: skip
def test_a_bad_figure_is_told_at_its_place_and_the_last_good_market_stands(
    packer, what, title, field, text, told
):
    packer.do([packer.part("wish", "Size"), "weight", "5"])
    stands, part = packer.state.question, packer.part(what, title)
    packer.do([part, field, text])
    fault = packer.told["fault"]
    assert told in fault["text"]
    assert fault["part"] == part
    assert packer.state.question is stands
    assert packer.fields(what, title)[field] == text  # what was typed is still there
    packer.do(act="save")
    assert packer.told["note"] == f"Not saved: {fault['text']}"
    assert packer.editor.saved == ""
    packer.do(act="back")
    assert packer.told["fault"] is None
    assert packer.told["note"] == ""


def test_other_changes_wait_until_the_bad_figure_is_mended(packer):
    sugar, size = packer.part("wish", "Sugar"), packer.part("wish", "Size")
    packer.do([sugar, "weight", "x"])
    packer.do([size, "weight", "7"])
    assert packer.state.own == ()
    packer.do([sugar, "weight", "2"])
    assert [wish.weight for wish in packer.state.question.profile.wishes] == [7, 1, 2]


def test_limits_and_wishes_are_added_with_figures_of_the_catalogue_and_removed(packer, catalogue):
    told = packer.do(act="add", what="limit", key="split_pit")
    assert told["added"] == packer.part("limit", "Split pits")
    known = catalogue.values["split_pit"]["estimate"].dropna()
    limit = packer.state.question.profile.limits[-1]
    assert limit.at_most == round(known.quantile(0.75))
    packer.do(act="add", what="wish", key="red")
    packer.do(act="add", what="wish", key="price")
    assert packer.state.question.profile.wishes[-1].key == "red"
    assert "red" not in dict(packer.told["missing"]["wish"])
    packer.do(act="remove", part=packer.part("limit", "Split pits"))
    packer.do(act="remove", part=packer.part("wish", "Red skin"))
    packer.do(act="remove", part="nobody")
    assert packer.state.own == ()


def test_the_last_limit_cannot_go_but_is_told(catalogue):
    visit = Visit(catalogue, "?v=1&own=sugar+at_least+11")
    assert visit.told["standing"] == "Your own market."
    visit.do(act="remove", part=visit.part("limit", "Sugar"))
    assert visit.told["fault"]["text"] == "This market: no limit and no wish; add at least one."
    assert visit.state.own == ("sugar at_least 11",)
    assert visit.told["back"] == "Take your own market off"
    visit.do(act="back")
    assert visit.state.question.profile is None


def test_without_a_market_one_can_be_started_and_the_list_of_markets_shows_none_chosen(catalogue):
    visit = Visit(catalogue)
    assert visit.told["title"] == "Make a market of your own"
    assert visit.told["parts"] == []
    assert not visit.told["saves"]
    visit.do(act="save")
    assert visit.editor.saved == ""
    visit.do(act="add", what="wish", key="sugar")
    assert visit.state.question.profile.name == OWN
    boxes = filters(visit.state)[0]
    assert json.loads(boxes.told)[0]["chosen"] == []
    press(boxes, {"field": "market", "chosen": [""]})
    assert visit.state.own == ()
    assert visit.told["parts"] == []


def beside(visit: Visit, part) -> dict:
    """What the page's filters tell: the words under the markets and the counts beside them."""
    boxes, words = part[0], part[1]
    return {
        "left": json.loads(boxes.told)[0]["left"],
        "chosen": json.loads(boxes.told)[0]["chosen"],
        "said": str(words.object),
    }


def sells_to(part, market: str) -> None:
    press(part[0], {"field": "market", "chosen": [market]})


def test_another_market_and_back_keeps_what_was_changed(packer):
    """Each market's changes are kept for the visit, told under its name, and counted beside it meanwhile."""
    side = filters(packer.state)
    packer.do([packer.part("limit", "Size"), "at_least", "2.75"])
    own, changed = packer.state.own, beside(packer, side)
    sells_to(side, "open")
    assert (packer.state.market, packer.state.own) == ("open", ())
    assert (
        beside(packer, side)["left"] == changed["left"]
    )  # the count beside the changed one is of the changed one
    sells_to(side, "packer")
    assert packer.state.own == own
    assert packer.told["standing"] == "Packer, with your changes."
    packer.do(act="back")
    sells_to(side, "open")
    sells_to(side, "packer")
    assert packer.state.own == ()


def test_the_words_under_the_markets_tell_the_changed_limit_and_that_it_was_changed(packer):
    side = filters(packer.state)
    assert "at least 2.50 in" in beside(packer, side)["said"]
    assert "your changes" not in beside(packer, side)["said"]
    packer.do([packer.part("limit", "Size"), "at_least", "2.75"])
    said = beside(packer, side)["said"]
    assert "at least 2.75 in" in said
    assert "2.50" not in said
    assert "Packer, with your changes." in said
    assert (
        "before your changes: “Large firm yellow fruit.”" in said
    )  # what the file says need not hold any more


def test_starting_afresh_forgets_what_was_changed(packer):
    side = filters(packer.state)
    packer.do([packer.part("limit", "Size"), "at_least", "2.75"])
    packer.state.start_afresh()
    sells_to(side, "packer")
    assert packer.state.own == ()


def test_an_own_market_that_is_taken_off_is_told_and_can_be_had_back(catalogue):
    visit = Visit(catalogue)
    side = filters(visit.state)
    visit.do(act="add", what="wish", key="sugar")
    own = visit.state.own
    sells_to(side, "packer")
    assert visit.state.notices == ("Your own market was taken off; Undo brings it back.",)
    visit.state.undo()
    assert (visit.state.market, visit.state.own) == ("", own)


@pytest.mark.parametrize(("typed", "si"), [("2½", 63.5), ("2 ½", 63.5), ("2 1/2", 63.5), ("¾", 19.05)])
def test_a_fraction_is_a_figure_however_it_is_typed(packer, typed, si):
    packer.do([packer.part("limit", "Size"), "at_least", typed])
    assert packer.told["fault"] is None
    assert packer.state.question.profile.limits[1].at_least == pytest.approx(si)


odd = st.none() | st.booleans() | st.integers() | st.text(max_size=9)
message = st.fixed_dictionaries(
    {"tick": st.integers(0, 9)},
    optional={
        "set": st.lists(st.tuples(odd, st.sampled_from(["weight", "from", "shape", "word yellow", "name"]) | odd, odd).map(list), max_size=3),
        "act": st.sampled_from(["add", "remove", "back", "open", "save"]) | odd, "part": odd, "what": st.sampled_from(["limit", "wish"]) | odd,
        "key": st.sampled_from(["sugar", "stone"]) | odd, "file": odd, "content": odd, "size": odd,
    },
)  # fmt: skip


@settings(suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None, max_examples=60)
@given(st.lists(message, max_size=4))
def test_no_message_is_too_strange_to_be_heard(catalogue, messages):
    visit = Visit(catalogue, "?v=1&market=packer")
    for msg in messages:
        press(visit.editor, msg)
    told = visit.told
    assert visit.state.question.profile is None or visit.state.question.profile.parts
    assert told["standing"]


def test_it_stands_below_the_market_s_words(state):
    kinds = [type(part).__name__ for part in filters(state)]
    assert kinds.index("MarketEditor") == kinds.index("Prose") + 1
    assert isinstance(filters(state)[kinds.index("MarketEditor")], MarketEditor)
