"""Whatever is written wrong is told in one sentence with the nearest that is right; nothing is taken for something else."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard import Asked, AskError, Records, load
from dashboard.calls.choices import CALLED
from dashboard.calls.choosing import OTHERS, PLAIN
from dashboard.market import MarketError
from tests.calls.told import fault_of, one_sentence


@pytest.mark.parametrize(
    ("asked", "told"),
    [
        ({"market": "roadside_stnd"}, "did you mean roadside_stand (Roadside stand)?"), ({"market": 3}, "not 3"), ({"market": "shop.toml"}, "cannot be read"),
        ({"market": {"name": "x", "limit": [{"trait": "siz", "at_least": 2}]}}, "did you mean size?"), ({"market": {}}, "has a name"),
        ({"market": {"name": "x", "limit": [{"trait": "size", "at_least": 2.5, "unit": "kg"}]}}, "write one of mm, cm, in"),
        ({"second_market": "pick your"}, "pick_your_own"),
        ({"flesh_color": "Yelow"}, "did you mean 'yellow'?"), ({"flesh_color": 4}, "not as 4"), ({"flesh_color": ["white", 4]}, "not as 4"),
        ({"flesh_colr": "white"}, "did you mean 'flesh_color'?"), ({"unit": "us"}, "did you mean 'units'?"), ({"sites": "maravel"}, "did you mean 'site'?"),
        ({"units": "inches"}, "there are 'us', 'si'"), ({"units": 1}, "not as 1"), ({"site": "maravl"}, "did you mean 'maravel'?"), ({"site": 2}, "not as 2"),
        ({"year": "lat"}, "did you mean 'late'?"), ({"ripeness": "soft"}, "'equal'"),
        ({"chill": 650}, 'as "650 hours"'), ({"chill": "650 mm"}, 'as "650 hours"'), ({"chill": "-3 hours"}, 'as "650 hours"'), ({"chill": ["650h", "2"]}, 'as "650 hours"'),
        ({"chill": "650 portions"}, "write 2 to 100, or did you mean 650 hours?"), ({"chill": "12 hours"}, "write 50 to 1,500, or did you mean 12 portions?"), ({"chill": ["50cp", "9000h"]}, "write 50 to 1,500."),
        ({"seasons": "3"}, "whole number"), ({"seasons": 0}, "0 is not"), ({"seasons": True}, "not True"), ({"seasons": 2.5}, "not 2.5"), ({"seasons": [3, "4"]}, "whole number"), ({"bacterial_spot": [1, 9]}, "from 0 to 5"),
        ({"bacterial_spot": 9}, "from 0 to 5"), ({"bacterial_spot": float("nan")}, "from 0 to 5"), ({"least": 4}, "from 1 to 3"), ({"certainty": 80}, "from 6 to 9"),
        ({"opens": "Jun 40"}, "in no calendar"), ({"opens": 612}, "not 612"), ({"opens": pd.NaT}, "no day"), ({"closes": "soon"}, "is no day"),
        ({"slate": "Oskndo"}, "did you mean Oskondo?"), ({"slate": 7}, "not as 7"), ({"picked_in": "Jully"}, "half month"),
        ({"flesh_color": "white", "flesh_colour": "red"}, "asked for twice"), ({"nursery": "Quilory"}, "did you mean 'Quillory Nursery'?"),
    ],
)  # fmt: skip
def test_a_question_that_cannot_be_asked(records: Records, asked: dict[str, Any], told: str):
    assert told in fault_of(lambda: records.ask(**asked))


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda ask: ask.ranking("chil"), "did you mean 'winter_chill'?"), (lambda ask: ask.ranking(5), "not as 5"), (lambda ask: ask.why("Oskndo"), "did you mean Oskondo?"),
        (lambda ask: ask.why(None), "not by None"), (lambda ask: ask.compare("Oskondo"), "1 were named"), (lambda ask: ask.compare("Oskondo", "Oskondo"), "1 were named"),
        (lambda ask: ask.compare(*ask.ranking().index[:7]), "7 were named"), (lambda ask: ask.stand_ins("Oskondo", days="7"), "from 0 to 60"),
        (lambda ask: ask.stand_ins("Oskondo", days=-1), "from 0 to 60"), (lambda ask: ask.season(of=3), "not as 3"), (lambda ask: ask.gaps(of=["Nobody"]), "no cultivar"),
        (lambda ask: ask.plan("Aug 1", "Jul 1"), "comes before the first"), (lambda ask: ask.plan("Dec 1"), "comes before the first"), (lambda ask: ask.plan(most=0), "0 is not"), (lambda ask: ask.plan(offered="yes"), "True or False"),
        (lambda ask: ask.plan(keep="Oskondo", never="Oskondo"), "both to be kept"), (lambda ask: ask.but(markt="x"), "did you mean 'market'?"),
        (lambda ask: ask.ranking().picture("size", "suger"), "did you mean 'sugar'?"), (lambda ask: ask.ranking().picture("size"), "two different traits"),
        (lambda ask: ask.why("Oskondo").picture(), "no picture"), (lambda ask: ask.ranking()["sugr"], "did you mean 'sugar_brix'?"), (lambda ask: ask.ranking()[["rank", "sizein"]], "did you mean 'size_in'?"),
        (lambda ask: ask.ranking().sugr_brix, "did you mean 'sugar_brix'?"), (lambda ask: ask.ranking()["Sugar (°Brix)"], "is called 'sugar_brix' here"), (lambda ask: ask.ranking()[7], "not as 7"),
        (lambda ask: ask.ranking().loc["Oskndo"], "did you mean 'Oskondo'?"), (lambda ask: ask.ranking().loc[["Oskondo", "Trenirin"]], "did you mean 'Trenirrin'?"),
        (lambda ask: ask.ranking().loc["Oskondo", "sugr_brix"], "did you mean 'sugar_brix'?"), (lambda ask: ask.ranking().sort_values("sugr_brix"), "did you mean 'sugar_brix'?"),
        (lambda ask: ask.ranking(columns=["sugr"]), "did you mean 'sugar'?"), (lambda ask: ask.plan(mst=8), "did you mean 'most'?"), (lambda ask: ask.why(), "it takes name"), (lambda ask: ask.season("a", "b"), "it takes of"),
        (lambda ask: ask.order(5, "Jun 10", "Jun 20"), 'such as "800 lb", not as 5'), (lambda ask: ask.order("9 lb", 5, "Jun 20"), "not 5"), (lambda ask: ask.order("9 lb", "Jun 20", "Jun 10"), "comes before the first"),
        (lambda ask: ask.order("9 lb", "Jun 10", "Jun 20", spacing=18), 'such as "18x18", not as 18'),
    ],
)  # fmt: skip
def test_an_answer_that_cannot_be_given(ask: Asked, call, told: str):
    assert told in fault_of(lambda: call(ask))


@pytest.mark.parametrize(
    ("call", "told"),
    [
        (lambda known: known.estimates("suger"), "did you mean 'sugar'?"), (lambda known: known.estimates(["sugar"]), "not as ['sugar']"),
        (lambda known: known.estimates("sugar", units="imperial"), "'us', 'si'"), (lambda known: known.estimates("sugar", site="nowhere"), "no site 'nowhere'"),
        (lambda known: known.fruit("Oskndo"), "did you mean Oskondo?"), (lambda known: known.fruit("Oskondo", units="mm"), "'us', 'si'"), (lambda known: known.find(3), "not 3"),
        (lambda known: load(3), "not by 3"), (lambda known: load(" "), "not by ' '"),
    ],
)  # fmt: skip
def test_records_asked_for_what_they_have_not(records: Records, call, told: str):
    assert told in fault_of(lambda: call(records))


def test_what_is_not_recorded_is_no_filter(catalogue):
    poor = Records(catalogue)  # no portions, no nursery
    assert "tell nothing of nursery" in fault_of(lambda: poor.ask(nursery="any"))


ODD: st.SearchStrategy[Any] = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12) | st.dates(),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner, max_size=2),
    max_leaves=4,
)


@settings(max_examples=150)
@given(name=st.sampled_from([*OTHERS, *PLAIN, *CALLED]) | st.text(min_size=1, max_size=12), said=ODD)
def test_anything_at_all_is_asked_or_told_in_one_sentence(few: Records, name: str, said: Any):
    asked, faults = None, []
    try:
        asked = few.ask(**({"market": said} if name == "market" else {name: said}))
    except (AskError, MarketError) as fault:
        faults.append(str(fault))
    assert all(map(one_sentence, faults))
    assert faults or (asked and len(asked.ranking()) <= len(few.cultivars) and asked.told)


def test_a_notebook_shows_the_sentence_alone():
    fault = AskError("There is no market.")
    assert fault._render_traceback_() == ["Not understood: There is no market."]


def test_a_column_that_is_not_there_is_what_pandas_looks_out_for(ask: Asked):
    told = ask.ranking()
    assert told.get("sugr", 7) == 7
    assert not hasattr(told, "sugr")
    assert told.groupby("verdict")["rank"].size().sum() == len(told)
    with pytest.raises(KeyError):
        told["sugr"]
    with pytest.raises(KeyError):
        told.loc["Oskndo":"Oskondo"]
    best = told.sort_values(["verdict", "sugar_brix"], ascending=False)
    assert best.loc[best.index[:3], "rank"].tolist() == best["rank"].head(3).tolist()
    assert best.loc[best["rank"] < 4].shape[0] == best.loc[told.index[0] : told.index[0]].shape[0] + 2
    best.loc[best.index[0], ["rank", "samples"]] = 0
    best[["mine", "yours"]] = 1
    assert best.loc[best.index[0], ["rank", "mine"]].tolist() == [0, 1]
    assert best.said == told.said


def test_an_answer_about_chill_says_what_it_is_and_how_little_margin_is_left(records: Records):
    """By hand: of those that pass, who needs more than nine tenths of what was asked."""
    asked = records.ask("Roadside stand", chill="650 hours")
    needs = records.cultivars.loc[asked.ranking().index, "chill_hours"]
    near = int((needs > 585).sum())
    for answer in (asked.ranking(), asked.why("Oskondo"), asked.season(), asked.gaps()):
        told = " ".join(answer.cautions)
        assert f"{near} cultivars that pass need more than 585 of your 650 hours: leave a margin" in told
        assert "estimates from a thermometer" in told
    placed = records.ask(
        {"name": "Mine", "limit": [{"trait": "enough_chill", "at_least": 9}]}, site="maravel"
    )
    assert "estimates from a thermometer" in placed.why("Oskondo").cautions[0]
    assert "thermometer" not in " ".join(records.ask().ranking().cautions)
