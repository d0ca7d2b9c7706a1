"""My site: the answer, the pictures, the table; weather that is brought, and what is wrong with it."""

from __future__ import annotations

import base64
import json
from dataclasses import replace

import pytest

from dashboard.answers.question import Question
from dashboard.page.parts import live
from dashboard.page.parts.elements import Prose, RowTable
from dashboard.page.parts.weather_bringing import READING, STOPPED, WeatherBringing
from dashboard.page.tabs.my_site import cultivars_view, keeping, my_site
from dashboard.page.tabs.my_site_pictures import dates_view, stages_view
from dashboard.places import warm_weather
from dashboard.visit.state import State
from tests.pressing import press

PIECE = 80_000


@pytest.fixture
def state(well_recorded, prepared) -> State:
    return State(well_recorded, "?v=1&tab=site")


def brought(page) -> WeatherBringing:
    return page.select(WeatherBringing)[0]


def send(element: WeatherBringing, raw: bytes, file: str = "mine.csv") -> dict:
    pieces = [raw[at : at + PIECE] for at in range(0, max(len(raw), 1), PIECE)]
    for at, piece in enumerate(pieces):
        content = base64.b64encode(piece).decode()
        press(
            element,
            {"act": "piece", "file": file, "size": len(raw), "at": at, "of": len(pieces), "content": content},
        )
    return json.loads(element.told)


def said(page) -> str:
    return " ".join(str(words.object) for words in page.select(Prose))


def test_a_station_is_told_and_drawn(state):
    page = my_site(state)
    assert "In 9 winters of 10, Hill had at least" in said(page)
    assert 'class="winters"' in said(page)
    assert "local extension service" in said(page)
    rows = json.loads(page.select(RowTable)[0].told)["rows"]
    known = (state.question.my_site.enough["measure"] != "").to_numpy()
    assert len(rows) == (known & state.question.passes).sum()


def test_another_station_repaints_and_a_slate_is_told_alone(state):
    page = my_site(state)
    state.choose(station="River", shortlist=("Candover", "Aldermere"))
    assert "In 9 winters of 10, River had" in said(page)
    assert [row["name"] for row in cultivars_view(state.question, 1)["rows"]] == ["Aldermere", "Candover"]


def test_a_file_of_ones_own_is_read_in_pieces_and_taken_off_again(state):
    page = my_site(state)
    told = send(brought(page), warm_weather().read_bytes())
    assert (told["faults"], told["brought"]) == ([], True)
    assert state.weather.name == "mine.csv"
    assert "In 9 winters of 10, mine.csv had at least" in said(page)
    assert "mine" not in state.link
    press(brought(page), {"act": "off"})
    assert state.weather is None
    assert "In 9 winters of 10, Hill had" in said(page)


def test_while_a_file_is_read_it_says_so_and_can_be_stopped(state, monkeypatch):
    left: list = []
    monkeypatch.setattr(live, "aside", lambda work, then, _hands: left.append((work, then)))
    element = brought(my_site(state))
    told = send(element, warm_weather().read_bytes())
    assert (told["about"], told["reading"]) == (READING.format("mine.csv"), True)
    press(element, {"act": "stop"})
    told = json.loads(element.told)
    assert (told["faults"], told["reading"]) == ([STOPPED], False)
    assert send(element, b"date")["faults"] == [live.BUSY]  # the first is still being put away
    work, then = left.pop()
    then(work())
    assert state.weather is None
    assert not left


@pytest.mark.parametrize(
    ("raw", "why"),
    [
        (b"", "mine.csv: the file is empty"),
        (b"\x89PNG....", "mine.csv: the file ends in .csv but is a picture"),
        (b"date,tmin_c,tmax_c\n2020-01-01,1,5\n2020-01-02,1,5\n", "mine.csv has 0 whole winters on record; 5 are needed."),
        (b"date,tmin_c,tmax_c\n" + b"".join(b"2020-%02d-%02d,%d,%d\n" % (m, d, 40 + d % 7, 58) for m in range(1, 13) for d in range(1, 29)), "The temperatures of mine.csv read like Fahrenheit"),
    ],
)  # fmt: skip
def test_a_file_that_cannot_be_used_is_told_in_a_sentence(state, raw, why):
    page = my_site(state)
    (fault, *_) = send(brought(page), raw)["faults"]
    assert fault.startswith(why)
    assert state.weather is None


def test_a_file_that_is_too_large_or_torn_is_told(state):
    element = brought(my_site(state))
    press(element, {"act": "piece", "file": "big.csv", "size": 9_000_000, "at": 0, "of": 1, "content": ""})
    assert json.loads(element.told)["faults"] == [
        "big.csv has 9.0 MB, more than the 1.5 MB a weather file may be; bring fewer years."
    ]
    press(element, {"act": "piece", "file": "torn.csv", "size": 9, "at": 1, "of": 2, "content": "AAAA"})
    assert json.loads(element.told)["faults"] == ["torn.csv did not arrive whole; open it once more."]
    press(element, {"act": "piece", "file": 7, "size": "x", "at": None, "of": [], "content": {}})
    assert "did not arrive whole" in json.loads(element.told)["faults"][0]


def test_the_button_keeps_who_gets_enough(state):
    label, choices = keeping(state.question)
    assert label == "Keep only those with enough in 9 winters of 10"
    state.choose(**choices)
    told = state.question.my_site.enough["enough"]
    kept = state.question.passes
    assert kept.sum() > 0
    assert set(state.question.catalogue.cultivars.index[kept]) <= set(told.index[told >= 0.9 - 1e-9])


def test_of_ones_own_place_the_button_bounds_the_need(state):
    page = my_site(state)
    send(brought(page), warm_weather().read_bytes())
    label, choices = keeping(state.question)
    assert label == "Keep only those that need at most 450 hours or 50 portions"
    state.choose(**choices)
    assert state.question.chill == ("450h", "50cp")


def test_records_without_weather_say_so(catalogue, prepared):
    page = my_site(State(catalogue, "?v=1&tab=site"))
    assert "These records hold no weather." in said(page)
    assert json.loads(page.select(RowTable)[0].told)["rows"] == []


def cells(view: dict) -> dict[str, list[str]]:
    """By the first cell of a row the others."""
    return {row["cells"][0]: row["cells"][1:] for row in view["rows"]}


def test_chill_by_date_ends_with_the_whole_winter_and_never_falls(well_recorded):
    asked = Question(well_recorded, station="River")
    told = cells(dates_view(asked, 1))
    assert list(told)[:3] == ["Oct 15", "Oct 31", "Nov 15"]
    portions = [int(row[0]) for row in told.values()]
    assert portions == sorted(portions)
    found = asked.my_site.winters
    at = list(found.dates.strftime("%b %-d")).index("Jan 31")
    by_then = sorted(found.by_day["portions"][:, at])
    assert (
        told["Jan 31"][0] == f"{by_then[len(by_then) // 10]:.0f}"
    )  # a tenth of 25 winters lie below the third


def test_frost_by_stage_tells_what_kills_how_often_and_in_which_spring(demo):
    """Kill temperatures as published (tests/site/test_frost.py): 18 and 1 °F at first swelling, 28 and 25 after bloom."""
    asked = Question(demo, station="maravel", shortlist=("Oskondo", "Trenirrin"))
    told = cells(stages_view(asked, 1))
    kills = [told[f"{share} % killed at"] for share in (10, 90)]
    assert (kills[0][0], kills[1][0], kills[0][-1], kills[1][-1]) == ("18 °F", "1 °F", "28 °F", "25 °F")
    bloomed = asked.my_site.bloomed
    at = demo.cultivars.index.get_indexer(["Oskondo", "Trenirrin"])
    hit = (bloomed.by_stage[5][:, at] > 0.1).any(axis=1).sum()
    assert told["Springs with over 10 % lost"][5] == f"{hit} of {len(bloomed.years)}"
    year = bloomed.years[3]
    assert told[str(year)][5] == f"{100 * bloomed.by_stage[5, 3, at].mean():.0f}"
    assert cells(stages_view(replace(asked, units="si"), 1))["90 % killed at"][0] == "-17 °C"
