"""What a prepared view holds, large: the season, the classes, a few side by side, one among all."""

from __future__ import annotations

import re
from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from dashboard.answers.among import among
from dashboard.answers.question import Question
from dashboard.charts import large, large_season, style
from dashboard.charts.calendar_rows import calendar_view
from dashboard.page.hall import forms
from dashboard.page.hall.forms import FORMS, form
from dashboard.terms.traits import HEADLINE
from dashboard.wording.legend import CALENDAR_MARKS, COUNTS_IN_FULL

SLATE = ("Aldrum", "Sibbrel", "Brovet")


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, market="roadside_stand", shortlist=SLATE, beside=SLATE)


def drawn(found: dict) -> ElementTree.Element:
    return ElementTree.fromstring(found["drawn"])


def words(found: dict) -> list[str]:
    return [at.text or "" for at in drawn(found).iter("text")]


def test_the_season_shows_every_one_of_the_slate_and_its_gaps(asked):
    found = form(asked, "season")
    assert [word for word in words(found) if word in SLATE] == [bar.name for bar in asked.strip.bars]
    gaps = [at for at in drawn(found).iter("rect") if at.get("fill") == style.by_name("bare")]
    assert len(gaps) == len(asked.strip.rows[0].gaps) * len(SLATE) + 1  # and one in the key


def test_under_the_calendar_stands_the_chance_of_each_week_s_barest_day(asked):
    found = form(asked, "season")
    (row,) = asked.strip.rows
    chance = row.cover.chance
    told = [f"{100 * float(chance[at : at + 7].min()):.0f}" for at in range(0, len(chance), 7)]
    assert words(found)[-len(told) - 1 :] == ["Years of 100 with fruit", *told]
    assert found["said"][-1] == forms.CHANCES
    two = form(replace(asked, second="regional_wholesale"), "season")
    assert {row.buyer for row in replace(asked, second="regional_wholesale").strip.rows} <= set(words(two))


@pytest.mark.parametrize(
    ("kind", "when"), [("any", "usual dates"), ("early", "early season"), ("ordinary", "ordinary season")]
)
def test_without_a_slate_the_season_counts_what_there_is_each_week_and_names_what_is_drawn(asked, kind, when):
    empty = replace(asked, shortlist=(), season_kind=kind)
    found = form(empty, "season")
    assert when in found["title"]
    assert "press S" in found["said"][0]
    windows, verdict, opens = empty.windows, empty.fit["verdict"], empty.selling[0]
    ripe = windows[
        (windows["first"] <= opens + 20.5) & (windows["last"] >= opens + 13.5)
    ].index  # its third week
    sure, may = ((verdict[ripe] == word).sum() for word in ("qualifies", "may qualify"))
    assert f"{sure}+{may}" in words(found)
    slate = form(replace(asked, season_kind=kind), "season")
    assert (slate["title"] == forms.OVER_ANY) == (kind == "any")
    assert "ordinary" not in slate["title"] or kind == "ordinary"


def test_the_season_warns_of_what_may_qualify_and_has_a_key_to_its_marks(demo):
    """As the page does: sentences of what covers nothing, or not surely, and each look that is drawn with its meaning."""
    asked = Question(demo, market="regional_wholesale", shortlist=SLATE)
    verdicts = {str(asked.fit["verdict"][name]) for name in SLATE}
    assert verdicts == {"misses", "may qualify"}
    found = form(asked, "season")
    assert found["said"] == [*calendar_view(asked)["said"], forms.CHANCES]
    assert any("may qualify" in line and "Sibbrel" in line for line in found["said"])
    assert key_of(found) == [
        "may qualify, yellow",
        *(CALENDAR_MARKS[look] for look in ("hollow", "thin", "gap")),
    ]
    nobody = form(replace(asked, market=""), "season")
    assert f"solid: {CALENDAR_MARKS['picked']}" in key_of(nobody)
    assert not any("qualif" in word for word in words(nobody))


def key_of(found: dict) -> list[str]:
    """The words over the dates."""
    return [
        at.text or ""
        for at in drawn(found).iter("text")
        if at.get("font-size") == str(large_season.KEY_LETTERS)
    ]


@pytest.mark.parametrize("market", ["", "regional_wholesale"])
def test_the_key_names_every_kind_of_bar_that_is_drawn(demo, market):
    """By how a bar is filled and edged, each that stands in a row stands in the key."""
    everyone = Question(demo, market=market)
    one_each = (
        everyone.fit.assign(flesh=demo.cultivars["flesh_colour"]).groupby(["verdict", "flesh"]).head(1).index
    )
    found = form(replace(everyone, shortlist=tuple(map(str, one_each))), "season")
    edged = [at for at in drawn(found).iter("rect") if at.get("data-bar")]
    in_rows = [
        at for row in drawn(found).iter("g") if row.get("class") == "row" for at in row if at.get("data-bar")
    ]

    def kinds(bars: list) -> set[tuple]:
        return {(at.get("fill"), at.get("stroke"), at.get("stroke-dasharray")) for at in bars}

    assert len(kinds(in_rows)) >= (7 if market else 4)
    assert kinds(edged[: len(edged) - len(in_rows)]) == kinds(in_rows)
    fleshes = {word for word in key_of(found) if "flesh" in word}
    assert {"yellow flesh", "white flesh", "flesh not recorded"} <= fleshes


def test_the_key_stands_over_the_calendar_in_as_many_lines_as_it_needs():
    marks = tuple((look, "white", words) for look, words in CALENDAR_MARKS.items())
    tops = []
    for many in (0, 1, 3):
        picture = ElementTree.fromstring(large_season.season([], [], [], marks * many, ""))
        ends = [
            float(at.get("x")) + large.SLIM * large_season.KEY_LETTERS * len(at.text)
            for at in picture.iter("text")
        ]
        assert max(ends, default=0) <= large.WIDTH
        assert len({at.get("y") for at in picture.iter("text")}) >= many
        tops.append(float(picture.get("data-top")))
    assert tops == sorted(set(tops))


def test_the_classes_say_that_what_may_qualify_counts_in_full(asked):
    assert COUNTS_IN_FULL in form(asked, "classes")["said"][0]
    assert COUNTS_IN_FULL not in form(replace(asked, market=""), "classes")["said"][0]


def test_the_classes_show_what_the_page_shows(asked):
    found, grid = form(asked, "classes"), asked.class_weeks
    assert found["title"] == "Each class, week by week"
    rows = [at for at in drawn(found).iter("g") if at.get("class") == "row"]
    named = [str(row[0].text).rstrip("…") for row in rows]  # all of them, whatever fits on a page
    assert len(named) == len(grid.classes) > 12
    assert all(whole.startswith(seen) for whole, seen in zip(grid.classes, named, strict=True))
    numbers = [word for word in words(found) if word.replace(".", "").isdigit()]
    assert f"{grid.count[0, 2]:.1f}" in numbers


def test_side_by_side_has_a_dot_for_every_known_figure(asked):
    found = form(asked, "beside")
    dots = [at for at in drawn(found).iter("circle") if at.get("fill") == style.by_name("spot")]
    assert len(dots) == sum(int(asked.side_by_side.values[key]["estimate"].notna().sum()) for key in HEADLINE)
    assert form(replace(asked, beside=()), "beside") is None
    assert form(asked, "fruit") is None


@pytest.mark.parametrize("count", [1, 2, 4, 6])
def test_side_by_side_no_figure_covers_the_next(demo, count):
    names = tuple(str(name) for name in demo.cultivars.index[:count])
    found = form(Question(demo, beside=names), "beside")
    lines: dict[str, list[tuple[float, float]]] = {}
    for at in drawn(found).iter("text"):
        half = large.BROAD * float(at.get("font-size")) * len(at.text) / 2
        if at.get("text-anchor") == "middle":
            lines.setdefault(at.get("y"), []).append((float(at.get("x")) - half, float(at.get("x")) + half))
    assert len(lines) > len(HEADLINE)
    for line in lines.values():
        assert all(end <= start for (_, end), (start, _) in pairwise(line))
        assert line[-1][1] <= large.WIDTH


def test_the_longest_name_of_a_class_stands_whole(demo):
    told = large.named("yellow nectarine, low acidity (115)", 0)
    assert "…" not in told
    size = int(re.search(r'font-size="(\d+)"', told)[1])
    assert large.BROAD * size * len("yellow nectarine, low acidity (115)") <= large.NAMES - 16


def test_one_cultivar_stands_among_all(asked):
    found = form(replace(asked, cultivar="Sibbrel"), "cultivar")
    assert found["speaks"]
    assert found["title"] == f"Sibbrel among all {len(asked.catalogue.cultivars)}"
    assert len(list(drawn(found).iter("circle"))) == len(HEADLINE)
    told = {one.trait: one for one in among(asked.values, "Sibbrel", asked.profile)}
    columns = [at for at in drawn(found).iter("rect") if at.get("fill") == style.by_name("edge")]
    assert len(columns) == sum(len(told[key].counts) for key in HEADLINE)


def test_one_of_a_trait_that_was_never_measured_says_so(asked, monkeypatch):
    monkeypatch.setattr(
        forms, "among", lambda *known: tuple(one for one in among(*known) if one.trait != "sugar")
    )
    found = form(replace(asked, cultivar="Sibbrel"), "cultivar")
    assert "not measured" in words(found)
    assert len(list(drawn(found).iter("circle"))) == len(HEADLINE) - 1


def test_what_may_qualify_is_hatched_so_that_it_is_seen_on_white_flesh_too():
    white = str(large_season._hatched("white"))
    fills = [part.split('"')[1] for part in white.split("fill=")[1:]]
    assert len(set(fills)) == 2


def test_any_records_have_forms(catalogue):
    names = tuple(str(name) for name in catalogue.cultivars.index[:3])
    for one in (Question(catalogue), Question(catalogue, shortlist=names, beside=names, cultivar=names[0])):
        for tab in FORMS:
            found = form(one, tab)
            if found and found["drawn"]:
                drawn(found)
