"""The command: exit codes, and one clear sentence where something is wrong."""

from __future__ import annotations

import io
import os
import shutil
import socket
import subprocess
import sys
from pathlib import Path

import pandas as pd
import pytest

from dashboard import cli, places
from dashboard.page import app
from dashboard.places import demo_data
from dashboard.terms.traits import TRAITS
from dashboard.visit import network_address as reach
from tests.records.small import tables, write_folder, write_workbook
from tests.serving import free_port


def run(*arguments: object, timeout: float = 60) -> subprocess.CompletedProcess[str]:
    """The command in a process of its own, from another folder than the project's."""
    return subprocess.run(
        [sys.executable, "-m", "dashboard", *map(str, arguments)],
        capture_output=True, text=True, timeout=timeout, check=False, cwd=places.PACKAGE.parent,
        env={**os.environ, "PYTHONIOENCODING": "utf-8"},
    )  # fmt: skip


@pytest.fixture
def folder(tmp_path) -> Path:
    return write_folder(tmp_path / "records", tables())


def test_checking_sound_records_ends_with_0(folder, capsys):
    assert cli.main(["check", str(folder)]) == 0
    assert capsys.readouterr().out.strip()


def test_checking_a_sound_workbook_ends_with_0(tmp_path, capsys):
    assert cli.main(["check", str(write_workbook(tmp_path / "trial.xlsx", tables()))]) == 0
    assert capsys.readouterr().out.strip()


def test_checking_faulty_records_ends_with_1_and_names_the_place(tmp_path, capsys):
    grids = tables()
    grids["fruit"][3][2] = "sixty"
    assert cli.main(["check", str(write_folder(tmp_path / "records", grids))]) == 1
    said = capsys.readouterr().out
    assert "fruit.csv" in said
    assert "sixty" in said


@pytest.mark.parametrize("made", ["nothing", "an empty folder", "a folder of other things", "a picture"])
def test_checking_what_is_no_records_ends_with_1_and_says_so(tmp_path, capsys, made):
    source = unfit(tmp_path, made)
    assert cli.main(["check", str(source)]) == 1
    assert capsys.readouterr().out.strip()


def unfit(folder: Path, made: str) -> Path:
    source = folder / "trial"
    if made == "an empty folder":
        source.mkdir()
    elif made == "a folder of other things":
        source.mkdir()
        (source / "letter.txt").write_text("Dear all", encoding="utf-8")
    elif made == "a picture":
        source = source.with_suffix(".xlsx")
        source.write_bytes(b"\x89PNG\r\n" + bytes(200))
    return source


@pytest.mark.parametrize("made", ["nothing", "an empty folder", "a folder of other things", "a picture"])
def test_serving_what_is_no_records_ends_with_1_and_one_clear_sentence(tmp_path, capsys, monkeypatch, made):
    monkeypatch.setenv(app.FOLDER, "")  # put back what the command sets
    assert cli.main(["serve", str(unfit(tmp_path, made)), "--port", str(free_port())]) == 1
    said = capsys.readouterr().err
    assert "trial" in said
    assert len(said.strip().splitlines()) <= 3


def test_a_wrong_folder_is_told_by_the_process_too(tmp_path):
    done = run("serve", tmp_path / "nowhere")
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    assert "nowhere" in done.stderr


@pytest.mark.slow
def test_serving_where_another_server_listens_ends_with_1_and_says_so(folder):
    with socket.socket() as taken:
        taken.bind(("localhost", 0))
        taken.listen()
        done = run("serve", folder, "--port", taken.getsockname()[1])
    assert done.returncode == 1
    assert "Traceback" not in done.stderr
    assert "port" in done.stderr


def test_a_port_taken_by_another_just_before_the_server_listens_is_told(folder, monkeypatch, capsys):
    """Two servers that race for it: both saw it free."""
    with socket.socket() as taken:
        taken.bind(("localhost", 0))
        taken.listen()
        port = taken.getsockname()[1]
        monkeypatch.setattr(reach, "refused", lambda address, port: "")
        assert cli.main(["serve", str(folder), "--port", str(port)]) == 1
    assert capsys.readouterr().err.strip() == reach.taken("localhost", port)


def test_the_template_is_a_workbook_of_every_sheet(tmp_path, capsys):
    target = tmp_path / "my_trial.xlsx"
    assert cli.main(["template", str(target)]) == 0
    assert str(target) in capsys.readouterr().out
    sheets = pd.read_excel(target, sheet_name=None, engine="calamine")
    assert {"cultivars", "samples", "fruit", "sites"} <= set(sheets)


def test_the_command_to_go_on_with_can_be_pasted_where_a_name_has_blanks(tmp_path, capsys):
    target = tmp_path / "my trial.xlsx"
    assert cli.main(["template", str(target)]) == 0
    assert capsys.readouterr().out.rstrip().endswith(f"orchard-slate check '{target}'")


def test_the_template_takes_no_file_away(tmp_path, capsys):
    target = tmp_path / "my_trial.xlsx"
    target.write_bytes(b"mine")
    assert cli.main(["template", str(target)]) == 1
    assert target.read_bytes() == b"mine"
    assert "already" in capsys.readouterr().err


def test_the_template_is_written_under_a_workbook_s_name(tmp_path, capsys):
    assert cli.main(["template", str(tmp_path / "my_trial.csv")]) == 1
    assert "my_trial.xlsx" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_the_template_in_a_folder_that_is_not_there_is_told(tmp_path, capsys):
    assert cli.main(["template", str(tmp_path / "nowhere" / "my_trial.xlsx")]) == 1
    assert "nowhere" in capsys.readouterr().err


@pytest.mark.parametrize("arguments", [[], ["bake"], ["serve", "--port", "lots"], ["check"], ["template"]])
def test_a_command_that_is_not_understood_ends_with_2(arguments, capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main(arguments)
    assert ended.value.code == 2
    assert "usage" in capsys.readouterr().err


def test_help_names_every_command():
    done = run("--help")
    assert done.returncode == 0
    for command in ("serve", "check", "estimate", "template"):
        assert command in done.stdout


def test_the_installed_command_is_the_same():
    command = shutil.which("orchard-slate", path=str(Path(sys.executable).parent))
    assert command, "orchard-slate is not beside this Python: install the package with  pip install -e ."
    done = subprocess.run([command, "--help"], capture_output=True, text=True, check=False)
    assert done.returncode == 0
    assert "orchard-slate" in done.stdout


def test_a_further_name_that_is_no_host_is_told_before_anything_is_read(capsys):
    assert cli.main(["serve", "--origin", "https://trials.example/"]) == 1
    said = capsys.readouterr().err
    assert said.count("\n") == 1
    assert "write trials.example" in said


def test_the_estimates_are_printed_as_a_table(capsys):
    assert cli.main(["estimate", str(demo_data()), "--trait", "size"]) == 0
    said = capsys.readouterr()
    rows = pd.read_csv(io.StringIO(said.out))
    assert set(rows["trait"]) == {"size"}
    assert len(rows) > 300
    assert "over sites and seasons" in said.err


def test_the_estimates_at_a_site_are_written_to_a_file(tmp_path, capsys):
    place = tmp_path / "values.csv"
    assert cli.main(["estimate", str(demo_data()), "--site", "ondry", "--out", str(place)]) == 0
    rows = pd.read_csv(place)
    assert str(len(rows)) in capsys.readouterr().out
    assert rows["trait"].nunique() == len(TRAITS)


@pytest.mark.parametrize(
    "asked", [["--trait", "weight"], ["--site", "nowhere"], ["--out", "/nowhere/at/all/values.csv"]]
)
def test_estimates_that_cannot_be_given_end_with_1_and_one_sentence(asked, capsys):
    assert cli.main(["estimate", str(demo_data()), *asked]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert len(said.err.strip().splitlines()) == 1


def test_a_ranking_is_printed_or_written_and_says_what_it_stands_for(tmp_path, capsys):
    profile, place = places.MARKETS / "roadside_stand.toml", tmp_path / "standings.csv"
    assert cli.main(["rank", str(demo_data()), "--market", str(profile)]) == 0
    printed = capsys.readouterr()
    assert cli.main(["rank", str(demo_data()), "--market", str(profile), "--out", str(place)]) == 0
    assert "355 rows written" in capsys.readouterr().out
    assert printed.out == place.read_text(encoding="utf-8")
    assert printed.out.startswith("Cultivar,")
    assert "Market: Roadside stand" in printed.err


LIMITLESS = 'name = "M"\n'
IMPOSSIBLE = LIMITLESS + '[[limit]]\ntrait = "size"\nunit = "mm"\nat_least = 80\nat_most = 70\n'
UNKNOWN_TRAIT = LIMITLESS + '[[limit]]\ntrait = "sizes"\nat_least = 80\n'
NEGATIVE = LIMITLESS + '[[wish]]\ntrait = "sugar"\nshape = "larger"\nfrom = 8\nto = 14\nweight = -2\n'


@pytest.mark.parametrize(
    ("written", "told"),
    [
        (LIMITLESS, "no limit and no wish"), (IMPOSSIBLE, "is above at_most"), (UNKNOWN_TRAIT, "did you mean size?"),
        (NEGATIVE, "must be above 0"), ("x" * 1_200_000, "larger than the 120 kB"), ("name = ", "is not TOML"),
        (None, "cannot be read"),
    ],
    ids=["no limits", "impossible", "unknown trait", "negative weight", "120 kB", "no TOML", "no file"],
)  # fmt: skip
def test_a_profile_that_cannot_be_used_ends_with_1_and_one_sentence(written, told, tmp_path, capsys):
    place = tmp_path / "profile.toml"
    if written is not None:
        place.write_text(written)
    assert cli.main(["rank", str(demo_data()), "--market", str(place)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert told in said.err
    assert said.err.strip().count("\n") == 0


def test_estimates_of_no_records_end_with_1(tmp_path, capsys):
    assert cli.main(["estimate", str(tmp_path / "nowhere")]) == 1
    assert "nowhere" in capsys.readouterr().err
