"""``orchard-slate plan``: the plan on the screen and in files, and one sentence for what cannot be planned."""

from __future__ import annotations

import argparse
import io

import pandas as pd
import pytest

from dashboard import cli
from dashboard.answers.planning import Easing, bound, easings, plan, with_unoffered
from dashboard.answers.question import Question
from dashboard.handout import plan as paper
from dashboard.handout import plan_command
from dashboard.places import demo_data
from dashboard.ripening import day_of
from dashboard.wording.covered import left
from dashboard.wording.lists import unoffered_told
from dashboard.wording.planning import easing_told, left_out_told

ASK = ["plan", str(demo_data()), "--market", "roadside_stand", "--from", "Jun 10", "--to", "Aug 31"]


def options(*more: str) -> argparse.Namespace:
    return cli.parser().parse_args([*ASK, *more])


@pytest.fixture(autouse=True)
def no_proof(monkeypatch):
    """What a longer proof says is tested alone."""
    monkeypatch.setattr(plan_command, "PROOF", 0.0)


def test_the_screen_says_the_answer_first_and_why_each_is_in(demo, capsys):
    assert cli.main(ASK) == 0
    told = capsys.readouterr().out
    found = plan(plan_command.wanted(demo, options()))
    lines = told.splitlines()
    assert (
        lines[0] == f"{len(found.picks)} cultivars. Each of the 83 days has fruit in at least 8 years in 10."
    )
    assert lines[1] == left(found.covers[0], "any")
    assert (
        lines[2]
        == "Roadside stand, Jun 10 to Aug 31 (83 days), fruit in 8 years in 10, any year, offered by any nursery."
    )
    assert (
        found.names
        == plan(Question(demo, market="roadside_stand", opens="06-10", closes="08-31").proposal_wanted).names
    )
    (aside,) = left_out_told(found, with_unoffered(found.asked))
    assert aside in lines
    assert aside.startswith("Left out: ")
    assert not unoffered_told(demo, found.names)
    for pick in found.picks:
        (line,) = [one for one in lines if one.startswith(f"  {pick.name} ")]
        assert "would not be covered" in line
    assert "of what can be bought cannot cover these days" in told
    assert told == paper.text(found, (), bound(found.asked), with_unoffered(found.asked))
    anyone = plan(plan_command.wanted(demo, options("--no-offered")))
    (unoffered,) = unoffered_told(demo, anyone.names, len(anyone.names))
    assert unoffered in paper.text(anyone, (), None, with_unoffered(anyone.asked))
    assert with_unoffered(anyone.asked) is None


def test_the_screen_says_that_it_is_proven_to_be_the_fewest(capsys, monkeypatch):
    monkeypatch.setattr(plan_command, "PROOF", 60.0)
    assert cli.main([*ASK, "--market", "long_distance_shipper"]) == 0
    assert "Of what can be bought now, fewer cannot cover these days." in capsys.readouterr().out.splitlines()


@pytest.mark.slow
def test_what_is_missing_and_what_would_help(demo, capsys):
    assert cli.main([*ASK, "--most", "10", "--offered"]) == 0
    told = capsys.readouterr().out
    found = plan(plan_command.wanted(demo, options("--most", "10", "--offered")))
    assert told.splitlines()[0].startswith(
        f"10 cultivars. {83 - found.bare_days} of 83 days have fruit in at least 8 years in 10. Not covered: "
    )
    assert "With 7 years in 10 instead of 8: " in told
    assert len(easings(found.asked)) == 2
    assert all(easing_told(one) in told for one in easings(found.asked))
    unasked = Easing("not offered", 1, found)  # whichever help most today
    assert easing_told(unasked).startswith("With cultivars that no nursery offers as well: ")
    assert told == paper.text(found, easings(found.asked), None, with_unoffered(found.asked))


@pytest.mark.alike(3)
@pytest.mark.parametrize("ending", ["txt", "csv", "xlsx"])
def test_a_file_holds_the_plan(demo, tmp_path, capsys, ending):
    place = tmp_path / f"plan.{ending}"
    more = ["--market2", "Regional wholesale", "--keep", "Hulvik"]
    assert cli.main([*ASK, *more, "--out", str(place)]) == 0
    found = plan(plan_command.wanted(demo, options(*more)))
    assert "Hulvik" in found.names
    assert capsys.readouterr().out.startswith(f"{place} written. {len(found.picks)} cultivars. ")
    if ending == "txt":
        assert all(name in place.read_text(encoding="utf-8") for name in found.names)
        return
    rows = (
        pd.read_csv(place)
        if ending == "csv"
        else pd.read_excel(io.BytesIO(place.read_bytes()), engine="calamine")
    )
    assert rows["Cultivar"].tolist() == list(found.names)
    assert {"Verdict, Roadside stand", "Verdict, Regional wholesale", "Nurseries", "Why"} <= set(rows)
    if ending == "xlsx":
        told = pd.read_excel(
            io.BytesIO(place.read_bytes()), engine="calamine", sheet_name="answer", header=None
        )
        assert told.iloc[0, 0] == "Answer"
        days = pd.read_excel(io.BytesIO(place.read_bytes()), engine="calamine", sheet_name="selling days")
        covered = days["Covered, Regional wholesale"].str.startswith("yes").tolist()
        assert covered == (found.covers[1].chance >= found.covers[1].wanted).tolist()


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--from", "Sep 30"], "The last selling day, Aug 31, comes before the first, Sep 30."),
        (["--to", "Feb 30"], "'Feb 30' is in no calendar (day 30: 1 to 29 in February); write it as Jun 10 or 2027-06-10."),
        (["--to", "soon"], "'soon' is no day; write it as Jun 10 or 2027-06-10."),
        (["--market", "roadside"], "There is no market 'roadside'; did you mean roadside_stand (Roadside stand)?"),
        (["--market2", "Roadside stand"], "Roadside stand is named twice; name another second buyer."),
        (["--keep", "Hulvikk"], "There is no cultivar 'Hulvikk' in these records; did you mean Hulvik?"),
        (["--keep", "Hulvik", "--never", "hulvik"], "Hulvik is both to be kept and never to be taken; name it in one place."),
        (["--site", "moon"], "No reading at a site 'moon'"),
        (["--most", "0"], "At most 0: "),
        (["--out", "plan.docx"], "plan.docx: a plan's name ends in .txt, .csv, .xlsx or .pdf, for example plan.pdf."),
    ],
)  # fmt: skip
def test_what_cannot_be_planned_is_one_sentence(more, said, capsys):
    assert cli.main([*ASK, *more]) == 1
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(said)
    assert len(told.err.strip().splitlines()) == 1


def test_a_southern_season_over_new_year_is_asked_as_it_is_typed(demo):
    from dataclasses import replace

    asked = plan_command.wanted(replace(demo, south=True), options("--from", "Dec 10", "--to", "2028-01-20"))
    assert asked.last - asked.first == 41
    assert asked.first == day_of(12, 10, south=True)
