"""A southern season runs over New Year: the demo moved by half a year and south of the equator ripens on the same days of its season."""

from __future__ import annotations

import shutil
from datetime import date

import numpy as np
import pandas as pd
import pytest

from dashboard.answers import catalogue as catalogues
from dashboard.answers.question import Question
from dashboard.handout import ripening
from dashboard.places import demo_data
from dashboard.ripening import day_label

HALF_A_YEAR = 181  # 1 January becomes 1 July, the first day of a southern season


@pytest.fixture(scope="module")
def southern(tmp_path_factory):
    folder = tmp_path_factory.mktemp("south")
    for name in ("cultivars.csv", "fruit.csv"):
        shutil.copy(demo_data() / name, folder / name)
    about = (demo_data() / "datapackage.json").read_text(encoding="utf-8")
    (folder / "datapackage.json").write_text(
        about.replace("2025", "2026"), encoding="utf-8"
    )  # the last of its seasons
    sites = pd.read_csv(demo_data() / "sites.csv")
    sites.assign(latitude_deg=-sites["latitude_deg"]).to_csv(folder / "sites.csv", index=False)
    samples = pd.read_csv(demo_data() / "samples.csv")
    moved = pd.to_datetime(samples["date"]) + pd.Timedelta(days=HALF_A_YEAR)
    samples.assign(date=moved.dt.strftime("%Y-%m-%d")).to_csv(folder / "samples.csv", index=False)
    return catalogues.load(folder)


@pytest.mark.slow
def test_windows_are_those_of_the_north_half_a_year_later(demo, southern):
    assert southern.south
    for name in ("first", "last", "first_low", "last_high"):
        gap = (southern.windows[name] - demo.windows[name]).abs()
        assert gap.median() < 0.3  # leap days fall on other days
        assert gap.max() < 1.5
    late = southern.windows["middle"].idxmax()
    assert day_label(southern.windows.loc[late, "middle"], True).split()[0] in ("Feb", "Mar")
    early = southern.windows["middle"].idxmin()
    assert day_label(southern.windows.loc[early, "middle"], True).split()[0] in ("Nov", "Dec")


def test_cover_runs_over_new_year_without_a_break(demo, southern):
    there, here = (Question(one, shortlist=("Aldrum", "Brovet")).cover for one in (southern, demo))
    assert there.chance.sum() == pytest.approx(here.chance.sum(), abs=0.5)
    wanted = Question(southern, ripening=("12b", "01a"), shortlist=("Aldrum",)).cover
    assert [day_label(day, True) for day in wanted.span] == ["Dec 16", "Jan 15"]
    assert (np.diff(wanted.days) == 1).all()


def test_the_walk_knows_its_season_on_either_side_of_new_year(southern):
    before, after = (ripening.walk(southern, "maravel", on) for on in (date(2025, 12, 23), date(2026, 1, 13)))
    assert 0 < before[1].told_by < after[1].told_by
    assert abs(before[1].shift - after[1].shift) < 4
