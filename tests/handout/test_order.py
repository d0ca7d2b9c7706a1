"""``orchard-slate order``: the sheet, its sums, the proven gap, and one sentence for what cannot be ordered."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import date

import numpy as np
import pandas as pd
import pytest
from pypdf import PdfReader

from dashboard import cli, load
from dashboard.answers import order_changes, ordered
from dashboard.answers.ordered import Order, settled
from dashboard.answers.ordering import borne, task
from dashboard.answers.question import Question
from dashboard.calls.ordered import COLUMNS
from dashboard.calls.understood import AskError
from dashboard.handout import order as paper
from dashboard.handout import order_command
from dashboard.order import Ordered
from dashboard.order.bearing import TREE_TO_TREE
from dashboard.places import demo_data
from dashboard.ripening.cover import SEED
from dashboard.wording import order_figures as figures
from dashboard.wording import ordering as words


@pytest.fixture(autouse=True)
def _brief(monkeypatch):
    monkeypatch.setattr(order_changes, "SECONDS", 0.3)
    monkeypatch.setattr(ordered, "REPLICATIONS", 2)


ASK = ["order", str(demo_data()), "--market", "roadside_stand", "--each", "900 lb", "--from", "Jul 1", "--to", "Jul 21"]  # fmt: skip


@pytest.fixture(scope="module")
def wanted(demo):
    return order_command.wanted(demo, cli.parser().parse_args(ASK))


@pytest.fixture(scope="module")
def order(wanted) -> Order:
    return settled(wanted, 6.0, 0.1)


def test_the_rows_are_what_the_nurseries_offer(order: Order):
    rows = order.rows
    assert (rows["trees"] == rows["bundles"] * rows["bundle"]).all()
    assert rows["cost"].sum() == pytest.approx(order.found.cost)
    assert order.acres == pytest.approx(order.trees / order.wanted.trees_per_acre)
    known = order.wanted.catalogue.cultivars["protected"].fillna(False).astype(bool)
    assert rows["protected"].tolist() == known[rows["cultivar"]].tolist()


def test_the_gap_is_told_and_never_smaller_than_it_is(order: Order):
    assert figures.percent_up(0.04001) == "4.1 %"
    told = paper.text(order)
    assert f"costs more than {figures.percent_up(order.found.gap)} less" in told or order.found.gap <= 0
    for caution in words.CAUTIONED:
        assert caution in told


def test_other_seasons_are_other_seasons_and_their_error_is_told(order: Order):
    weeks = order.weeks
    assert weeks["fill"].between(0.85, 1).all()
    assert weeks["fully"].between(0, 1).all()
    assert (weeks["error"] > 0).all()
    assert weeks["error"].max() < 0.01
    least, mean = order.replicated
    assert mean == pytest.approx(order.found.bound, rel=0.3)
    assert least < mean


def test_few_trees_stray_more_than_many(order: Order):
    """Strickland (1935): 144 peach trees, mean 131.29 lb, standard deviation 40.88; of n trees 1/√n of that."""
    assert pytest.approx(0.3114, abs=1e-4) == TREE_TO_TREE
    _, each, _, held = order._fresh
    plain = task(order.wanted, 2000, SEED + 1)
    trees = plain.trees(order.bundles)[held]
    even = plain.supply[:, held][:, :, plain.weeks] * trees[None, :, None]
    with np.errstate(invalid="ignore"):
        strays = np.log(np.nanmax(each, axis=2) / np.nanmax(even, axis=2))
    assert np.nanstd(strays, axis=0) == pytest.approx(TREE_TO_TREE / np.sqrt(trees), rel=0.1)


def test_trees_bear_more_each_year_and_a_lost_cultivar_is_missed(order: Order):
    met = order.years["met"].to_numpy()
    assert len(met) == 15
    assert (np.diff(met) >= -1e-9).all()
    whole = (order.weeks["fill"] * order.weeks["kg"]).sum() / order.weeks["kg"].sum()
    assert met[-1] == pytest.approx(whole)
    assert (order.without["met"] <= whole + 1e-9).all()


def test_files(order: Order):
    rows = pd.read_csv(io.BytesIO(paper.csv(order)))
    assert rows["Cost ($)"].sum() == pytest.approx(order.found.cost)
    book = pd.read_excel(io.BytesIO(paper.xlsx(order)), sheet_name=None, engine="calamine")
    assert list(book) == ["order", "weeks", "answer"]
    assert len(book["weeks"]) == 3
    told = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(paper.pdf(order))).pages)
    assert "Tree order for Roadside stand" in told
    assert order.rows["nursery"].iloc[0] in told


def test_what_was_found_when_somebody_interrupts_is_kept(wanted, monkeypatch):
    def interrupted(asked, seconds, gap, longest):
        yield Ordered(asked, asked.useful, 1.0, 0.5)
        raise KeyboardInterrupt

    monkeypatch.setattr("dashboard.answers.ordered.ordering", interrupted)
    assert (settled(wanted).bundles == task(wanted).useful).all()


@pytest.mark.slow
def test_too_little_land_is_said_with_what_would_help(wanted, capsys):
    found = settled(replace(wanted, acres=0.4), 9.0)
    told = paper.text(found)
    assert "Not every promise can be kept with what you allow." in told
    assert "Would help: land for" in told
    assert "lacks" in told
    assert found.trees <= 0.4 * wanted.trees_per_acre


def test_a_largest_share_is_kept_and_told(wanted):
    found = settled(replace(wanted, names=tuple(wanted.candidates[:12]), most_share=0.3), 3.0, 0.1)
    trees = found.rows.groupby("cultivar")["trees"].sum()
    assert trees.max() <= 0.3 * trees.sum() + 1e-9
    assert f"no cultivar more than 30 % of the trees of this order; {trees.idxmax()} has most" in paper.text(
        found
    )


def test_one_order_for_two_buyers_fills_both(demo, wanted):
    more = ["--second", "regional_wholesale", "--second-each", "300 lb"]
    two = order_command.wanted(demo, cli.parser().parse_args([*ASK, *more]))
    found = settled(replace(two, names=two.candidates[:10]), 2.0, 0.2)
    told = paper.text(found)
    assert "for Regional wholesale: 300 lb wanted" in told
    assert "for both together: 1,200 lb wanted" in told
    assert words.SHARED in told
    weeks, numbers = found.weeks, found.found.task
    promised = numbers.told(found.bundles).fill
    first, second, both = np.split(weeks["fill"].to_numpy(), 3)
    assert both == pytest.approx((900 * first + 300 * second) / 1200)
    assert weeks["fill"].to_numpy() == pytest.approx(promised, abs=0.05)  # other seasons, and the split
    assert PdfReader(io.BytesIO(paper.pdf(found))).pages[0].extract_text().startswith("Tree order for Roadside stand and Regional wholesale")  # fmt: skip


def test_a_share_that_stands_in_the_way_is_named(demo, wanted):
    few = replace(wanted, names=tuple(wanted.offers["cultivar"].unique()[:5]))
    free = settled(few, 3.0, 0.1)
    found = settled(replace(few, acres=1.1 * free.acres, most_share=0.2), 3.0)
    assert found.short is not None
    assert "It stands in the way that no cultivar may have more than 20 % of the trees." in paper.text(found)


@pytest.mark.slow
def test_weeks_that_nobody_fills_are_told(demo, wanted):
    late = order_command.wanted(demo, cli.parser().parse_args([*ASK[:-4], "--from", "Jul 15", "--to", "Nov 30"]))  # fmt: skip
    assert np.max(task(late).lowered) > 0.9
    assert "all trees on offer fall short" in paper.text(settled(late, 4.0, 0.5))


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (["--acres", "0"], "0 acres hold no tree"),
        (["--acres", "-3"], "-3 acres hold no tree"),
        (["--acres", "nan"], "nan acres hold no tree"),
        (["--spacing", "18"], "write feet between rows"),
        (["--each", "-5 lb"], "is no amount of fruit"),
        (["--to", "Jun 31"], "is in no calendar"),
        (["--bears", "-1"], "--bears -1: is a number"),
        (["--money", "0"], "--money 0: is an amount in dollars"),
        (["--money", "5"], "buy no bundle that brings fruit"),
        (["--money", "900", "--most", "5"], "goes with promises for each week"),
        (["--most-share", "0"], "--most-share 0: is a share in per cent"),
        (["--most-share", "10", "--slate", "Rusvet,Mulvet"], "it takes 10 cultivars"),
        (["--price", "nan"], "--price nan: is a number"),
        (["--met", "200"], "--met 200: is a share in per cent"),
        (["--slate", "Nobody"], "There is no cultivar 'Nobody'"),
        (["--demand", "x.csv"], "Say how much fruit is wanted, one way"),
        (["--seconds", "0"], "--seconds 0: is a number from 1 to 3600"),
        (["--place", "Nowhere"], "Nowhere"),
        (["--weather", "no_such.csv"], "no_such.csv"),
        (["--second", "packer"], "Name a second buyer and what he wants"),
        (["--second-each", "5 lb"], "Name a second buyer and what he wants"),
        (["--second", "roadside_stand", "--second-each", "5 lb"], "is the first buyer again"),
        (["--out", "x.doc"], "an order's name ends in"),
        (["--from", "Dec 1", "--to", "Dec 20"], "No tree on offer"),
    ],
)
def test_one_sentence_for_what_cannot_be_ordered(demo, changes, said, capsys):
    assert cli.main([*ASK, *changes]) == 1
    told = capsys.readouterr().err
    assert said in told
    assert len([line for line in told.strip().splitlines() if " s: " not in line]) == 1


def test_a_place_takes_of_the_crops_what_it_takes_on_the_page(demo, monkeypatch):
    """Named by the command, by a notebook or chosen on My site: one place, one supply."""
    asked = []

    def captured(wanted, *_):
        asked.append(wanted)
        raise ValueError("enough")

    monkeypatch.setattr("dashboard.calls.ordered.settled", captured)
    with pytest.raises(AskError, match="enough"):
        load(demo_data()).ask("Roadside stand").order("900 lb", "Jul 1", "Jul 21", place="Maravel")
    page = Question(demo, market="roadside_stand", station="maravel", opens="07-01", closes="07-21", weekly="900").order_wanted  # fmt: skip
    for more in (["--place", "maravel"], ["--site", "maravel"]):
        asked.append(order_command.wanted(demo, cli.parser().parse_args([*ASK, *more])))
    assert [one.place.name for one in asked] == [page.place.name] * 3
    for one in asked[:2]:
        assert task(one, 40).supply == pytest.approx(task(page, 40).supply)
    assert task(page, 40).supply.sum() < task(replace(page, place=None), 40).supply.sum()


@pytest.mark.slow
def test_what_is_said_of_the_crops_is_what_was_asked(order: Order):
    assert dict(words.lines(order))["Rests on"] == borne(order.wanted.catalogue).note
    own = Order(replace(order.wanted, bears=50.0), order.found)
    assert "bear 110 lb in full bearing, as you say" in dict(words.lines(own))["Rests on"]


@pytest.mark.slow
def test_a_notebook_asks_the_same():
    told = load(demo_data()).ask("Roadside stand").order("900 lb", "Jul 1", date(2027, 7, 21), seconds=2)
    assert tuple(told.columns) == COLUMNS
    assert told["trees"].sum() > 0
    assert any("Order " in line for line in told.said)
