"""The command on a place: its table, its sentences, and what cannot be told."""

from __future__ import annotations

import pandas as pd
import pytest

from dashboard.answers.question import Question
from dashboard.cli import main
from dashboard.handout.site_table import place, table
from dashboard.places import warm_weather


def test_every_cultivar_has_a_row(demo):
    found = table(Question(demo, weather=place(demo, "ondry", 0, "", [])))
    assert list(found["cultivar"]) == list(demo.cultivars.index)
    assert found["winters_in_10"].dropna().between(0, 10).all()
    assert (found["springs"] == 25).all()
    assert found["hail_samples"].sum() == len(demo.records_tables["hail"])


def test_a_file_of_ones_own_stands_in_its_place(demo):
    found = place(demo, "", 0, str(warm_weather()), [])
    assert (found.name, len(found.winters.years)) == ("weather", 25)


@pytest.mark.parametrize(
    ("site", "higher", "weather", "why"),
    [
        (
            "nowhere",
            0,
            "",
            "There is no weather of a site 'nowhere'; there is some of maravel, tessock, ondry.",
        ),
        ("", 0, "none.csv", "none.csv cannot be opened"),
    ],
)
def test_what_cannot_be_told_is_said(demo, site, higher, weather, why):
    with pytest.raises(ValueError, match=why):
        place(demo, site, higher, weather, [])


def test_records_without_weather_ask_for_a_file(catalogue):
    with pytest.raises(ValueError, match="These records hold no weather; name a file of it with --weather"):
        place(catalogue, "", 0, "", [])


def test_the_command_writes_a_table_and_says_what_it_means(demo, tmp_path, capsys):
    out = tmp_path / "site.csv"
    assert main(["site", demo.source, "--weather", str(warm_weather()), "--out", str(out)]) == 0
    assert len(pd.read_csv(out)) == len(demo.cultivars)
    said = capsys.readouterr().err
    assert said.startswith("In 9 winters of 10, weather had at least")
    assert "local extension service" in said
    assert main(["site", demo.source, "--higher", "900"]) == 1
    assert "so nothing can be said of 900 m." in capsys.readouterr().err
