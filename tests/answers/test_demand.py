"""What a buyer wants by week, from words or a file, and one sentence with place, value, rule and what to write for what cannot be read."""

from __future__ import annotations

import pytest

from dashboard.answers.demand import LARGEST, amount_kg, each_week, read_demand
from dashboard.answers.order_choices import trees_per_acre
from dashboard.ripening import day_of

LB = 0.45359237  # international pound, exact


def test_so_much_a_week_with_a_shorter_last_one():
    found = each_week("700 lb", "Jun 10", "Jun 26")
    assert found.first == day_of(6, 10)
    assert found.kg == pytest.approx((700 * LB, 700 * LB, 300 * LB))
    assert (found.days - found.first).tolist() == [0, 7, 14, 17]


@pytest.mark.parametrize(("said", "kg"), [("800 lb", 800 * LB), ("1,200", 1200 * LB), ("350kg", 350), ("2 bushels", 96 * LB)])  # fmt: skip
def test_an_amount(said, kg):
    assert amount_kg(said) == pytest.approx(kg)


def test_a_bushel_weighs_what_is_said():
    assert amount_kg("1 bu", 50) == pytest.approx(50 * LB)


def test_a_file_of_weeks_in_any_order_and_with_one_left_out(tmp_path):
    place = tmp_path / "demand.csv"
    place.write_text("\ufeffWeek,Amount,Unit\n2027-06-24,20,bu\nJun 10,800,lb\n", "utf-8")
    found = read_demand(place)
    assert found.first == day_of(6, 10)
    assert found.kg == pytest.approx((800 * LB, 0, 20 * 48 * LB))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("week,amount\nJun 10,-5\n", r"line 2: '-5 ' is no amount of fruit for a week"),
        ("week,amount\nJun 10,many\n", "line 2: 'many ' is no amount of fruit; write it as 800 lb"),
        ("week,amount\nJun 31,5\n", "line 2: 'Jun 31' is in no calendar"),
        ("week,amount\nJun 10,5\n2027-06-10,6\n", "line 3: the week of Jun 10 is there twice"),
        ("week,amount\nJun 10,5\nJun 18,6\n", "line 3: Jun 18 is not a whole number of weeks after Jun 10"),
        ("week,amount,unit\nJun 10,5,crates\n", "'5 crates' is no amount of fruit"),
        ("day,amount\nJun 10,5\n", "has no column 'week'"),
        ("", "has no column 'week'"),
        ("week,amount\n" + "Jun 10,5\n" * 60, "has 60 lines; a season has at most 53 weeks"),
        ("week,amount\n" + "x" * 10_000_000, f"is larger than {LARGEST // 1000} kB"),
    ],
)
def test_what_cannot_be_read_is_said(tmp_path, text, said):
    place = tmp_path / "demand.csv"
    place.write_text(text, "utf-8")
    with pytest.raises(ValueError, match=said):
        read_demand(place)


def test_text_that_is_no_utf_8(tmp_path):
    place = tmp_path / "demand.csv"
    place.write_bytes(b"week,amount\nJun 10,\xff\n")
    with pytest.raises(ValueError, match="is not text in UTF-8"):
        read_demand(place)


def test_days_the_wrong_way_round():
    with pytest.raises(ValueError, match="comes before"):
        each_week("800 lb", "Aug 31", "Jun 10")


@pytest.mark.parametrize(("spacing", "trees"), [("18x18", 134), ("18x24", 101)])
def test_trees_per_acre_are_those_published(spacing, trees):
    """An extension guide to growing peaches prints 134 trees an acre at 18 × 18 ft and 101 at 18 × 24 ft, rounded to the nearest."""
    assert round(trees_per_acre(spacing)) == trees


@pytest.mark.parametrize("spacing", ["18", "0x18", "18x-4", "a x b", "1e3x18"])
def test_no_spacing(spacing):
    with pytest.raises(ValueError, match="write feet between rows"):
        trees_per_acre(spacing)
