"""What can be in one way alone is a list to be confirmed, and what may be two is asked about; a deviation goes with its mean."""

from __future__ import annotations

from dataclasses import replace

from dashboard.records import read
from dashboard.records.importing.grouped import MOST, together
from dashboard.records.importing.kinds import COLUMNS, DAYS, ONE_BY_ONE, SITES, UNITS
from dashboard.records.importing.mapping import Question
from dashboard.records.importing.measures import possible
from dashboard.records.importing.roles import ROLES
from tests.records.importing.season import came_in, is_true, season
from tests.records.importing.test_twelve_ways import csv_file

HEAD = ("Cultivar", "Site", "Date", "Fruit", "Seam", "Width", "P1", "P2", "°Brix")
PLAIN = {("P1", "unit"): "lbf", ("P2", "unit"): "lbf", "order": "month/day", "Low": "Low", "High": "High"}


def offers(asked: list[Question], kind: str) -> list[str]:
    return [one.proposal for one in asked if one.alike[:1] == (kind,)]


def test_units_in_which_alone_it_could_be_fruit_and_an_order_that_alone_gives_days(tmp_path):
    """A figure near 60 is mm or no fruit; near 2.5 it may be cm or inches, and 9 to 14 any unit of firmness."""
    samples = season(3)
    late = [sample for sample in samples if sample.day.day > 12]
    rows = [[s.cultivar, s.site, f"{s.day:%m/%d/%y}", n, *s.si[n - 1, :2], *s.pounds[n - 1], s.brix[n - 1]] for s in late for n in range(1, 11)]  # fmt: skip
    _, replies = came_in([csv_file(tmp_path / "a.csv", HEAD, rows)], tmp_path / "trial", PLAIN)
    assert sorted((one.path[3], one.proposal) for one in replies.asked if one.alike[:1] == (UNITS,)) == [("P1", ""), ("P2", ""), ("Seam", "mm"), ("Width", "mm")]  # fmt: skip
    assert offers(replies.asked, DAYS) == ["month/day"]
    assert "century" not in replies.kinds
    is_true(tmp_path / "trial", late)


def test_what_may_be_in_two_units_is_in_no_list():
    size, firmness = ROLES["suture"], ROLES["firmness 1"]
    assert possible([f"{60 + n}" for n in range(9)], size) == ["mm"]
    assert possible([f"2.{n}" for n in range(1, 10)], size) == ["cm", "in"]
    assert possible([f"{9 + n / 4}" for n in range(9)], firmness) == ["n", "kgf", "lbf"]
    assert possible(["60"] * 3, size) == ["mm", "cm", "in"]  # three figures say nothing


def test_a_deviation_is_asked_about_with_its_mean_or_shown_in_its_unit(tmp_path):
    rows = [[f"Alvane{letter}", "Low", "2016-07-05", 9, 2.4, 0.1, 11, 2] for letter in "abcdefghij"]
    head = ("Cultivar", "Site", "Date", "n", "Mean size", "SD size", "Mean firmness (lb)", "SD firmness")
    answers = {("Mean size", "unit"): "in", ("SD size", "unit"): "in", "Low": "Low"}
    answers |= {f"Alvane{letter}": f"Alvane{letter}" for letter in "abcdefghij"}
    _, replies = came_in([csv_file(tmp_path / "a.csv", head, rows)], tmp_path / "trial", answers)
    units = [one for one in replies.asked if one.alike[:1] == (UNITS,)]
    assert sorted((one.path[3], one.proposal) for one in units) == [
        ("Mean size", ""),
        ("SD firmness", "lbf"),
        ("SD size", ""),
    ]
    (group,) = together(units)
    assert [part.name for part in group.parts] == ["Mean size, SD size", "SD firmness"]
    means = read(tmp_path / "trial").tables["means"]
    assert means["size_sd_mm"].round(3).eq(2.54).all()


def test_sheets_of_one_site_by_year_are_that_site(tmp_path):
    rows = [["Alvane", "2016-07-05", 1, 60], ["Brintel", "2016-07-05", 1, 62]]
    files = [csv_file(tmp_path / f"{place}.csv", ("Cultivar", "Date", "Fruit", "Suture (mm)"), [[row[0], f"{place[-4:]}-07-05", *row[2:]] for row in rows]) for place in ("Low 2016", "Low 2017", "High 2016")]  # fmt: skip
    answers = {"site": "file name", "Low 2016": "Low", "Low 2017": "Low", "High 2016": "High 2016"}
    _, replies = came_in(files, tmp_path / "trial", answers)
    assert sorted(offers(replies.asked, SITES)) == ["High 2016", "Low", "Low"]


def table(name: str, columns: int, heading: str = "") -> list[Question]:
    return [Question(("layout", name, number), "which?", ("suture", "cross"), alike=(COLUMNS, name), line=("A", f"{heading or name}{number}", "“61”"), proposal="suture") for number in range(columns)]  # fmt: skip


def test_short_tables_are_one_list_each_under_its_name_and_long_ones_are_not():
    groups = together([*table("a", 10), *table("b", 12), *table("c", 9), *table("d", MOST + 5)])
    assert [len(group.parts) for group in groups] == [22, 9, MOST, 5]
    assert [group.heads for group in groups] == [{"1": "a", "11": "b"}, {}, {}, {}]
    assert groups[1].asks == "is what stands behind each arrow right? (list 2 of 4)"
    assert together(table("a", 10))[0].nth == ""
    assert [group.about for group in groups] == ["", "c", "d", "d"]


def test_columns_of_one_name_in_several_sheets_are_one_line_while_their_figures_are_of_one_level():
    def of(sheet: str, middle: float) -> Question:
        return replace(table(sheet, 1, "Seam")[0], shown=(f"  “{middle:g}”",), figures=(middle,))

    (group,) = together(
        [of("a", 60), of("b", 2.4), of("c", 64), of("d", 70), of("e", 58), *table("e", 2, "Text")]
    )
    assert [(part.name, part.seen, part.place) for part in group.parts] == [
        ("Seam0", "“60”; “64”; “70”", "a, c, d and 1 more"), ("Seam0", "“61”", "b"), ("Text0", "“61”", "e"), ("Text1", "“61”", "e"),
    ]  # fmt: skip
    assert group.parts[0].alone.about == "Seam0, a, c, d and 1 more"
    assert ONE_BY_ONE in group.parts[0].alone.options
