"""Days as people write them, by what was said of month, year and century."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from dashboard.records.importing.asked_dates import OVER, asked_dates
from dashboard.records.importing.dates import Calendar, asked, day, in_text, of_two_figures, year_in
from dashboard.records.importing.lost_zeros import doubtful
from dashboard.records.importing.mapping import Answers
from tests.records.importing.season import came_in, is_true, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

US = Calendar("month/day", 2016, 20)
OTHER = Calendar("day/month", 2016, 20)


@pytest.mark.parametrize(
    ("cell", "how", "meant"),
    [
        ("2016-07-05", US, "2016-07-05"), ("2016-07-05 00:00:00", US, "2016-07-05"), ("2016/7/5", US, "2016-07-05"), ("20160705", US, "2016-07-05"),
        ("7/5/2016", US, "2016-07-05"), ("7/5/2016", OTHER, "2016-05-07"), ("5.7.16", OTHER, "2016-07-05"), ("7-5-16", US, "2016-07-05"),
        ("16-07-05", Calendar("year/month/day", century=20), "2016-07-05"), ("7/5", US, "2016-07-05"), ("July 5, 2016", US, "2016-07-05"),
        ("5 Jul 2016", US, "2016-07-05"), ("5-Jul-16", US, "2016-07-05"), ("Jul 5", US, "2016-07-05"), ("Tuesday, July 5th, 2016", US, "2016-07-05"),
        ("2016-W27", US, "2016-W27"), ("Wk 27", Calendar(year=2016, weeks=0), "2016-W27"), ("week 1, 2016", Calendar(weeks=-1), "2015-W53"), ("27", Calendar(year=2016, numbers="week of the year", weeks=1), "2016-W28"), ("42556", Calendar(counted="from 1900"), "2016-07-05"), ("41094", Calendar(counted="from 1904"), "2016-07-05"),
        ("159", Calendar(year=2024, numbers="day of the year"), "2024-06-07"), ("159", Calendar(year=2023, numbers="day of the year"), "2023-06-08"),
        ("2016-05-07", Calendar(cells="day and month exchanged"), "2016-07-05"),
        ("2016-07-25", Calendar(cells="day and month exchanged"), "2016-07-25"),
        ("7.1", replace(US, zeros="right"), "2016-07-01"), ("7.1", replace(US, zeros="a 0 is lost"), "2016-07-10"), ("7.17", replace(US, zeros="a 0 is lost"), "2016-07-17"),
        ("7.4", replace(US, zeros="set aside"), "2016-07-04"), ("3.1", replace(OTHER, zeros="a 0 is lost"), "2016-10-03"), ("3.2", replace(OTHER, zeros="a 0 is lost"), "2016-02-03"),
    ],
)  # fmt: skip
def test_a_day_is_what_was_said_of_it(cell, how, meant):
    assert day(cell, how) == (meant, None)


@pytest.mark.parametrize(
    ("cell", "how", "said"),
    [
        ("7/5/2016", Calendar(), "may be two days"), ("7/5", Calendar("month/day"), "has no year"), ("7/5/47", Calendar("month/day"), "has no year"),
        ("25/7/2016", US, "is not a day of the calendar"), ("2016-02-30", US, "is not a day of the calendar"), ("42556", US, "is a day number"),
        ("sometime", US, "is not a date"), ("Week 27", US, "is a week that is counted in several ways"), ("wk 54", Calendar(year=2016, weeks=0), "is not a week of that year"), ("Week 27", Calendar(weeks=0), "has no year"), ("", US, "is not a date"),
        ("7.1", replace(US, zeros="set aside"), "may have lost a 0"),
    ],
)  # fmt: skip
def test_what_is_not_known_is_no_day(cell, how, said):
    text, why = day(cell, how)
    assert text == ""
    assert why is not None
    assert said in why[0]


FRENCH = Calendar(
    year=2016, months={"juil": 7, "juillet": 7, "août": 8, "julio": 7, "marraskuu": 11, "wed": 0}
)


@pytest.mark.parametrize(
    ("cell", "meant"),
    [("5 juil. 2016", "2016-07-05"), ("12 août", "2016-08-12"), ("mardi 5 juillet 2016", "2016-07-05"), ("5 de julio de 2016", "2016-07-05"), ("5. JUIL", "2016-07-05"), ("3 marraskuu 2016", "2016-11-03")],
)  # fmt: skip
def test_a_month_of_another_language_is_what_was_said_of_it(cell, meant):
    assert day(cell, FRENCH) == (meant, None)
    text, why = day(cell, US)  # though marraskuu begins as March does
    assert text == ""
    assert "a month that is not known" in why[0]
    assert len(asked([cell]).months) == 1


def test_a_word_that_is_no_month_is_no_day():
    text, why = day("5 wed", FRENCH)
    assert (text, why[0]) == ("", "is not a date")


def test_what_has_to_be_asked():
    found = asked(["7/5/2016", "2016-07-19", "5-Jul", "7/12/16", "7/12/47", "42556"])
    assert (found.order, found.year, found.century, found.numbers, found.cells) == (("7/5/2016", "7/12/16", "7/12/47"), ("5-Jul",), ("7/12/47",), ("42556",), ())  # fmt: skip
    assert asked(["25/7/2016", "2016-05-07"], ["2016-05-07"]).cells == ("2016-05-07",)
    assert asked(["25/7/2016", "2016-05-07"]).cells == ()  # a text says its day itself
    assert asked(["2016-05-07", "July 5, 2016"]) == asked([])


def test_a_year_of_two_figures_is_the_one_that_can_have_had_a_trial():
    assert [of_two_figures(two) for two in ("98", "50", "00", "16", "49", "")] == [1998, 1950, 2000, 2016, None, None]  # fmt: skip
    next_year = date.today().year + 1
    assert of_two_figures(f"{next_year % 100:02}") == next_year
    assert of_two_figures(f"{(next_year + 1) % 100:02}") is None
    assert day("7/12/98", Calendar("month/day"))[0] == "1998-07-12"
    assert day("7/12/98", Calendar("month/day", century=20))[0] == "2098-07-12"  # as somebody said


def test_only_what_may_begin_with_a_year_is_offered_as_such():
    assert asked(["6/11/24"]).orders == asked(["16-07-05", "7/5"]).orders == ("month/day", "day/month")
    assert asked(["16-07-05"]).orders[-1] == "year/month/day"
    found = asked(["159", "400", "0"])
    assert (found.of_year, found.year) == (("159",), ("159",))
    text, why = day("366", Calendar(year=2023, numbers="day of the year"))
    assert (text, why is None) == ("", False)


def test_dates_and_years_in_titles_and_names():
    assert in_text("Picked 7/5/2016, Low block") == "7/5/2016"
    assert in_text("Week of July 5") == in_text("Week 27, July 5") == "July 5"
    assert (in_text("Peaches wk 27"), in_text("2016-W27"), in_text("Row 27")) == ("wk 27", "2016-W27", "")
    assert in_text("Récolte du 5 juillet 2016, bloc bas") == "5 juillet 2016"
    assert in_text("7/5/2016 to 7/12/2016") == ""
    assert in_text("Block 12, row 3") == ""
    assert (year_in("trial_2016.xlsx"), year_in("2016 and 2017"), year_in("week 27")) == (2016, None, None)


def test_days_that_may_have_lost_a_0_are_those_with_another_meaning():
    assert doubtful(["7.1", "7.3", "7.4", "7.17", "7/1"], month_first=True) == ("7.1", "7.3")
    assert doubtful(["7.1", "7.30"], month_first=True) == ()  # this one kept its 0
    assert doubtful(["3.7", "10.7", "3.1"], month_first=False) == ("3.1",)


def test_a_day_that_may_have_lost_a_0_is_asked_about(tmp_path):
    samples = season(1)
    for number, sample in enumerate(samples):
        sample.day = sample.day.replace(day=(10, 17, 20, 24, 30)[number])
    rows = long_rows(samples, lambda day: f"{day.month}.{day.day}".rstrip("0"))
    answers = {"order": "month/day", "year": "2016", "lost_zero": "a 0 is lost"}
    outcome, replies = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", answers)
    (question,) = [one for one in replies.asked if one.path[-1] == "lost_zero"]
    assert question.shown[0] == "  “7.1” → right: 2024-07-01; a 0 is lost: 2024-07-10"
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)


@pytest.mark.parametrize(("first", "told"), [("Dec 20", True), ("Jul 5", False)])
def test_days_that_go_over_new_year_are_told_to_have_no_one_year(first, told):
    cells = {"2023-24.csv": [first, "Jan 5"]}
    (question,) = asked_dates(("layout", 0), "Day", cells, {}, Answers())
    assert (OVER in question.shown) is told
