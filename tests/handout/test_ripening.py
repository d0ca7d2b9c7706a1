"""Windows and the week's walk as tables, and what is told when they cannot be given."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import date, timedelta

import numpy as np
import pandas as pd
import pytest

from dashboard import cli
from dashboard.answers import catalogue as catalogues
from dashboard.handout import ripening
from dashboard.places import demo_data
from dashboard.ripening import day_label
from tests.records.small import tables, write_folder

DAY = date(2025, 7, 7)


def test_a_row_a_cultivar_and_kind_of_season(demo):
    table = ripening.ripening_table(demo, "maravel")
    known = demo.ripening.windows("maravel")["first"].notna().sum()
    assert len(table) == 3 * known
    row = table[(table["cultivar"] == "Aldrum") & (table["season"] == "late")].iloc[0]
    windows = demo.ripening.windows("maravel", "late")
    assert row["first"] == pytest.approx(windows.loc["Aldrum", "first"], abs=0.05)
    assert row["first_date"] == day_label(windows.loc["Aldrum", "first"])
    assert (table["first_low"] <= table["first"]).all()
    beside = table[table["season"] == "ordinary"].set_index("cultivar")["from_check"]
    assert beside[demo.checks[0]] == 0


def test_the_walk_goes_by_rows_and_knows_only_what_was_picked_by_then(demo):
    table, told = ripening.walk(demo, "maravel", DAY, by_row=True)
    rows = pd.to_numeric(table["row"])
    assert rows.is_monotonic_increasing
    assert told.told_by > 5
    standing = demo.records_tables["trees"]
    here = set(standing.loc[standing["site"].astype(str) == "maravel", "cultivar"].astype(str))
    assert set(table["cultivar"]) <= here
    earlier = ripening.walk(demo, "maravel", DAY - timedelta(days=60))[1]
    assert earlier.told_by < told.told_by
    assert earlier.shift_se > told.shift_se


def test_what_was_not_sampled_and_is_soon_over_stands_first(demo):
    table, told = ripening.walk(demo, "maravel", DAY)
    due = (table["look_first"] == "yes").to_numpy()
    assert 0 < due.sum() < len(table)
    assert not due[due.sum() :].any()
    assert (table.loc[due, "picked_since"] == "").all()
    expected = told.rows.reindex(table["cultivar"])
    today = DAY.timetuple().tm_yday
    assert (expected["first"][due] < today + 0.5).all()
    not_yet = expected[~due & expected["picked"].isna().to_numpy() & expected["first"].notna().to_numpy()]
    assert (not_yet["first"] >= today + 0.5).all()
    assert table.loc[due, "days_left"].is_monotonic_increasing
    others = table.loc[~due, "days_left"]
    heaps = [others >= 0, others < 0, others.isna()]  # running, past, new
    assert others.index.tolist() == [
        place for heap in heaps for place in others[heap.fillna(False)].sort_values().index
    ]
    by_row = ripening.walk(demo, "maravel", DAY, by_row=True)[0]
    pd.testing.assert_frame_equal(
        *(one.sort_values("cultivar", ignore_index=True) for one in (table, by_row))
    )


def test_the_walk_foretells_the_week_s_first_picks(demo):
    """Over the weeks of the demo's last season: of those said likely, most came; of those not on the list, few did."""
    picks = demo.picks[
        (demo.picks["site"].astype(str) == "maravel") & (demo.picks["season"] == 2025)
    ].set_index("cultivar")
    likely, came, missed = 0, 0, 0
    for week in range(9):
        on = date(2025, 6, 10) + timedelta(days=7 * week)
        today = on.timetuple().tm_yday
        table, _ = ripening.walk(demo, "maravel", on)
        new = picks.index[(picks["first"] > today) & (picks["first"] <= today + 7)].astype(str)
        fresh = table[table["picked_since"] == ""]
        sure = fresh.loc[fresh["chance_pct"].fillna(0) >= 50, "cultivar"]
        likely += len(sure)
        came += len(set(sure) & set(new))
        missed += len(set(new) - set(table["cultivar"]))
    assert likely > 20
    assert came / likely > 0.5
    assert missed <= 3  # a few come a week before they were thought to


def test_a_cultivar_in_its_first_season_is_looked_at_every_week(demo):
    table, _ = ripening.walk(demo, "maravel", DAY)
    new = table[table["remark"] == ripening.FIRST_SEASON]
    before = set(demo.picks.loc[demo.picks["season"] < 2025, "cultivar"].astype(str))
    assert len(new) > 0
    assert not set(new["cultivar"]) & before
    assert new["chance_pct"].isna().all()


def test_for_paper_there_is_a_box_to_tick(demo):
    table, told = ripening.walk(demo, "maravel", DAY)
    text = ripening.walk_text(table, told, "maravel", DAY, demo)
    lines = text.splitlines()
    assert "days later than an ordinary one" in lines[1] or "days earlier" in lines[1]
    assert sum("[ ]" in line for line in lines) == len(table)
    assert sum(line.startswith("! ") for line in lines) == (table["look_first"] == "yes").sum() > 0
    assert max(map(len, lines[3:])) < 120
    assert all(str(name) in text for name in table["cultivar"])


def test_without_trees_every_cultivar_picked_there_is_walked_to(demo):
    bare = replace(demo, records_tables={})
    table, _ = ripening.walk(bare, "maravel", DAY)
    assert table["row"].isna().all()
    whole = ripening.walk(demo, "maravel", DAY)[0]
    assert set(whole.loc[whole["remark"] != ripening.FIRST_SEASON, "cultivar"]) <= set(table["cultivar"])


def test_hostile_names_stay_text():
    rows = pd.DataFrame({"row": ["@7", "8"], "cultivar": ["=1+1", "Aldrum"], "chance_pct": [1, 2]})
    written = [(row["row"], row["cultivar"]) for row in csv.DictReader(io.StringIO(ripening.text(rows)))]
    assert written == [("'@7", "'=1+1"), ("8", "Aldrum")]


@pytest.mark.parametrize(
    ("asked", "sentence"),
    [
        (["ripening", "--site", "nowhere"], "Nothing was picked at a site 'nowhere'"),
        (["walk", "--site", "nowhere"], "Nothing was picked at a site 'nowhere'"),
        (["walk", "--site", "maravel", "--date", "7 July"], "write it as 2025-07-14"),
    ],
)
def test_what_cannot_be_given_ends_with_1_and_one_sentence(asked, sentence, capsys):
    assert cli.main([asked[0], str(demo_data()), *asked[1:]]) == 1
    said = capsys.readouterr().err
    assert sentence in said
    assert len(said.splitlines()) == 1


@pytest.mark.parametrize("command", ["ripening", "walk"])
def test_records_of_years_alone_tell_no_time_of_picking(tmp_path, command, capsys):
    grids = tables()
    for number in range(20):
        grids["samples"].append(
            [
                f"N{number}",
                ("Alvane", "Brintel", "T 12-034")[number % 3],
                "low",
                str(2023 + number % 2),
                "1",
                "8",
                "6",
                "10",
                "",
            ]
        )
    for cells in grids["samples"][1:]:
        cells[3] = cells[3][:4]
    assert cli.main([command, str(write_folder(tmp_path, grids)), "--site", "low"]) == 1
    said = capsys.readouterr().err
    assert (
        "Too few picks are on record" if command == "ripening" else "No day of picking is on record"
    ) in said


def test_the_commands_write_their_tables(tmp_path, capsys):
    for command, more in (("ripening", []), ("walk", ["--date", DAY.isoformat()])):
        place = tmp_path / f"{command}.csv"
        assert cli.main([command, str(demo_data()), "--site", "maravel", *more, "--out", str(place)]) == 0
        assert len(pd.read_csv(place)) > 5
    assert cli.main(["walk", str(demo_data()), "--site", "maravel", "--date", DAY.isoformat()]) == 0
    assert "[ ]" in capsys.readouterr().out


def test_of_no_records_they_end_with_1(tmp_path, capsys):
    assert cli.main(["walk", str(tmp_path / "nowhere"), "--site", "x"]) == 1
    assert capsys.readouterr().err.strip()


def test_a_day_before_any_pick_of_the_season_is_told(demo):
    table, told = ripening.walk(demo, "maravel", date(2025, 5, 1))
    assert told.told_by == 0
    assert "nothing is picked yet" in ripening.walk_text(table, told, "maravel", date(2025, 5, 1), demo)
    assert np.isfinite(told.shift_se)


def test_once_the_season_is_over_nothing_is_asked_for(demo):
    table, told = ripening.walk(demo, "maravel", date(2025, 11, 25))
    assert table.empty
    assert "Nothing is expected" in ripening.walk_text(table, told, "maravel", date(2025, 11, 25), demo)


def test_one_in_its_first_season_is_dropped_once_it_is_over(demo):
    table, _ = ripening.walk(demo, "maravel", DAY + timedelta(days=7))
    picked = demo.picks[
        (demo.picks["season"] == 2025) & (demo.picks["site"].astype(str) == "maravel")
    ].set_index("cultivar")["last"]
    long_over = picked.index[picked < 170].astype(str)
    assert len(long_over) > 0
    assert not set(table["cultivar"]) & set(long_over)


def test_a_site_goes_by_its_name_too(demo):
    assert len(ripening.ripening_table(demo, "Maravel Station")) == len(
        ripening.ripening_table(demo, "maravel")
    )


def test_records_with_too_little_spread_foretell_nothing_and_faults_are_told_on_the_walk(demo):
    faulty = catalogues.load(demo_data() / "with_errors")
    with pytest.raises(ValueError, match="takes two at least"):
        ripening.walk(faulty, "quarrel", date(2024, 7, 1))
    errors = [problem for problem in faulty.problems if problem.severity == "error"]
    assert errors
    table, told = ripening.walk(demo, "maravel", DAY)
    text = ripening.walk_text(table, told, "maravel", DAY, replace(demo, problems=faulty.problems))
    assert f"{len(errors)} places of the records could not be used" in text
    assert "could not be used" not in ripening.walk_text(table, told, "maravel", DAY, demo)
