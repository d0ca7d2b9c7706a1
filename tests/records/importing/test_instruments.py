"""How an instrument reads is asked before its first reading comes in, also into a trial of ratings."""

from __future__ import annotations

from dashboard.records import read
from tests.records.importing.season import came_in, season
from tests.records.importing.test_twelve_ways import LONG, csv_file, long_rows

PLAIN = {"scale": "0 to 10, 10 best", "Low": "Low"}


def test_ratings_first_and_fruit_later(tmp_path):
    samples, trial = season(1), tmp_path / "trial"
    walked = [[s.cultivar, s.site, s.day.isoformat(), s.ratings["red"]] for s in samples]
    _, first = came_in([csv_file(tmp_path / "walk.csv", ("Cultivar", "Site", "Date", "Red"), walked)], trial, PLAIN)  # fmt: skip
    assert not first.kinds & {"tip_mm", "temperature_compensated"}
    fruit = csv_file(tmp_path / "fruit.csv", LONG, long_rows(samples))
    said = PLAIN | {"tip_mm": "11", "temperature_compensated": "no", "refractometer_zero": "at 20 C"}
    _, second = came_in([fruit], trial, said)
    offers = {one.path[-1]: one.offer for one in second.asked if one.path[0] == "trial"}
    assert offers == {"tip_mm": "8", "temperature_compensated": "yes", "refractometer_zero": ""}
    declared = read(trial).declaration
    assert (declared.tip_mm, declared.temperature_compensated, declared.refractometer_zero) == (11, False, "at 20 C")  # fmt: skip
    _, third = came_in([csv_file(tmp_path / "more.csv", LONG, long_rows(season(2)[len(samples) :]))], trial, PLAIN)  # fmt: skip
    assert not third.kinds & {"tip_mm", "temperature_compensated"}  # some stand


def test_what_the_trial_declares_stays_where_it_is_right(tmp_path):
    trial = tmp_path / "trial"
    came_in([csv_file(tmp_path / "a.csv", LONG[:6], [row[:6] for row in long_rows(season(1))])], trial, PLAIN)  # fmt: skip
    before = (trial / "datapackage.json").read_bytes()
    _, replies = came_in([csv_file(tmp_path / "b.csv", LONG, long_rows(season(1)))], trial, PLAIN)
    assert {"tip_mm", "temperature_compensated"} <= replies.kinds
    assert (trial / "datapackage.json").read_bytes() == before
