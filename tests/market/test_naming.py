"""One way to name a market: its key, its title, a profile's file; and one sentence where there is none of that name."""

from __future__ import annotations

import pytest

from dashboard import cli
from dashboard.market.naming import market_called
from dashboard.places import MARKETS
from dashboard.visit.state import State
from tests.records.small import tables, write_folder

WAYS = [
    "roadside_stand",
    "Roadside stand",
    "  roadside  STAND ",
    "ROADSIDE_STAND",
    str(MARKETS / "roadside_stand.toml"),
]


@pytest.mark.parametrize("said", WAYS)
def test_a_market_goes_by_its_key_its_title_or_its_file(demo, said):
    assert market_called(demo.markets, said).name == "Roadside stand"


def test_a_key_goes_before_another_s_title(catalogue):
    markets = {"packer": catalogue.markets["packer"], "Packer": catalogue.markets["open"]}
    assert market_called(markets, "Packer").name == "Open"


@pytest.mark.parametrize(
    ("said", "told"),
    [("rodside stand", "There is no market 'rodside stand'; did you mean roadside_stand (Roadside stand)?"),
     ("qqqq", "There is no market 'qqqq'; there are long_distance_shipper (Long-distance shipper), ")],
)  # fmt: skip
def test_one_that_is_not_there_is_one_sentence_with_the_nearest(demo, said, told):
    with pytest.raises(ValueError, match=r".") as fault:
        market_called(demo.markets, said)
    assert str(fault.value).startswith(told)
    assert "\n" not in str(fault.value)


@pytest.mark.alike(6)
@pytest.mark.parametrize("command", ["rank", "publish", "handout"])
@pytest.mark.parametrize("said", ["roadside_stand", "Roadside stand"])
def test_every_command_takes_it(command, said, tmp_path, capsys, small_records):
    place = tmp_path / {"rank": "r.csv", "publish": "s.html", "handout": "h.xlsx"}[command]
    assert cli.main([command, str(small_records), "--market", said, "--out", str(place)]) == 0
    assert place.stat().st_size > 0


@pytest.mark.parametrize("command", ["rank", "publish", "handout"])
def test_every_command_says_the_same_of_one_that_is_not_there(command, tmp_path, capsys, small_records):
    place = tmp_path / {"rank": "r.csv", "publish": "s.html", "handout": "h.xlsx"}[command]
    assert cli.main([command, str(small_records), "--market", "rodside stand", "--out", str(place)]) == 1
    said = capsys.readouterr().err.strip()
    assert said == "There is no market 'rodside stand'; did you mean roadside_stand (Roadside stand)?"


@pytest.mark.parametrize("said", ["roadside_stand", "Roadside+stand", "roadside+stand"])
def test_a_link_takes_key_and_title(demo, said):
    state = State(demo, f"?v=1&market={said}")
    assert (state.market, state.notices) == ("roadside_stand", ())
    assert "market=roadside_stand" in state.link


def test_a_link_reads_no_file_and_tells_the_nearest(demo):
    state = State(demo, f"?v=1&market={MARKETS / 'roadside_stand.toml'}")
    assert state.market == ""
    (note,) = State(demo, "?v=1&market=rodside+stand").notices
    assert note.startswith("This link asks for market “rodside stand”, which these records do not have")
    assert "“roadside_stand”" in note


@pytest.fixture
def small_records(tmp_path):
    return write_folder(tmp_path / "records", tables())
