"""A file of weather that somebody brings: read like the table of the records, each fault in a sentence."""

from __future__ import annotations

import pytest

from dashboard.places import warm_weather
from dashboard.records.weather_file import LARGEST, read_weather, weather_file


def test_days_are_read_without_a_site():
    found = weather_file(b"date;tmin_c;tmax_c\n2020-01-01;-1,5;4\n2020-01-02;0;5\n", "mine.csv")
    assert found.refused == ""
    assert found.days["tmax_c"].tolist() == [4, 5]


def test_fahrenheit_becomes_celsius():
    found = weather_file(b"date,tmin_f,tmax_f\n2020-01-01,32,50\n", "mine.csv")
    assert found.days[["tmin_c", "tmax_c"]].iloc[0].tolist() == pytest.approx([0, 10])


@pytest.mark.parametrize(
    ("raw", "why"),
    [
        (b"", "mine.csv: the file is empty; write the headings and rows, or remove the file."),
        (
            b"PK\x03\x04xx",
            "mine.csv: the file ends in .csv but is a zip file or workbook; save the sheet as CSV (UTF-8).",
        ),
        (
            b"date,site,tmin_c,tmax_c\n2020-01-01,a,1,2\n2020-01-01,b,1,2\n",
            "mine.csv holds the weather of 2 sites; bring one of them.",
        ),
        (
            b"date\n2020-01-01\n",
            "mine.csv holds no temperatures; write date, tmin_c and tmax_c (or tmin_f and tmax_f) in the first row.",
        ),
        (
            b"x" * (LARGEST + 1),
            "mine.csv has 1.5 MB, more than the 1.5 MB a weather file may be; bring fewer years.",
        ),
    ],
)
def test_what_cannot_be_read_is_refused_in_a_sentence(raw, why):
    assert weather_file(raw, "mine.csv").refused == why


def test_cells_at_fault_are_set_aside_and_told():
    rows = b"".join(b"2020-02-%02d,99,100\n" % day for day in range(1, 6))
    found = weather_file(b"date,tmin_c,tmax_c\n2020-01-01,1,5\n" + rows, "mine.csv")
    assert len(found.told) == 4
    assert found.told[-1] == "7 more faults like these were set aside."


def test_a_file_that_is_not_there_is_told(tmp_path):
    assert (
        read_weather(tmp_path / "none.csv").refused
        == "none.csv cannot be opened (No such file or directory)."
    )
    assert len(read_weather(warm_weather()).days) > 9000
