"""The command that writes a handout: exit codes, a line a page, and one clear sentence where something is wrong."""

from __future__ import annotations

import re

import pytest

from dashboard import cli
from dashboard.answers.question import Question
from dashboard.handout import booklet, workbook
from dashboard.places import demo_data
from tests.handout.reading import pages
from tests.records.small import tables, write_folder, write_workbook

NAMES = "Aldrum, Zelmor"


def test_paper_is_written_and_each_page_told(demo, tmp_path, capsys):
    place = tmp_path / "handout.pdf"
    asked = ["--market", "roadside_stand", "--shortlist", NAMES, "--units", "si", "--site", "ondry"]
    assert cli.main(["handout", str(demo_data()), "--out", str(place), *asked]) == 0
    said = capsys.readouterr()
    assert said.err.strip().splitlines() == [f"{number} of 6 pages" for number in range(1, 7)]
    assert re.fullmatch(rf"{re.escape(str(place))} written: \d+ kB\n", said.out)
    page = Question(demo, market="roadside_stand", shortlist=("Aldrum", "Zelmor"), units="si", site="ondry")
    assert pages(place.read_bytes()) == pages(booklet.pdf(page))


def test_the_workbook_is_written(demo, tmp_path, capsys):
    place = tmp_path / "handout.XLSX"
    assert cli.main(["handout", str(demo_data()), "--out", str(place), "--shortlist", NAMES]) == 0
    assert "1 of" not in capsys.readouterr().err
    page = Question(demo, shortlist=("Aldrum", "Zelmor"))
    assert len(place.read_bytes()) == pytest.approx(len(workbook.xlsx(page)), rel=0.01)


def test_small_records_make_a_handout(tmp_path, capsys):
    folder = write_folder(tmp_path / "records", tables())
    for name in ("a.pdf", "a.xlsx"):
        assert cli.main(["handout", str(folder), "--out", str(tmp_path / name)]) == 0
    assert "written" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("wanted", "told"),
    [
        (["--out", "handout.txt"], "a handout's name ends in .pdf (paper) or .xlsx (workbook)"),
        (["--out", "handout"], "a handout's name ends in .pdf"), (["--out", "/nowhere/at/all/handout.pdf"], "there is no folder /nowhere/at/all"),
        (["--out", "folder.pdf"], "cannot be written"), (["--out", "a.pdf", "--market", "moon"], "There is no market 'moon'"),
        (["--out", "a.pdf", "--market", "moon.toml"], "cannot be read"), (["--out", "a.pdf", "--shortlist", "Zelmo"], "did you mean Zelmor?"),
        (["--out", "a.xlsx", "--site", "moon"], "No reading at a site 'moon'"),
    ],
)  # fmt: skip
def test_what_cannot_be_given_ends_with_1_and_one_sentence(wanted, told, tmp_path, capsys, monkeypatch):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "folder.pdf").mkdir()
    assert cli.main(["handout", str(demo_data()), "--shortlist", "Zelmor", *wanted]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    sentences = [line for line in said.err.strip().splitlines() if not line.endswith("pages")]
    assert len(sentences) == 1
    assert told in sentences[0]
    assert [path.name for path in tmp_path.iterdir()] == ["folder.pdf"]


def test_the_records_themselves_are_never_written_over(tmp_path, capsys):
    book = write_workbook(tmp_path / "trial.xlsx", tables())
    before = book.read_bytes()
    assert cli.main(["handout", str(book), "--out", str(book)]) == 1
    assert "are the records themselves" in capsys.readouterr().err
    assert book.read_bytes() == before


def test_no_records_end_with_1(tmp_path, capsys):
    assert cli.main(["handout", str(tmp_path / "nowhere"), "--out", str(tmp_path / "a.pdf")]) == 1
    assert "nowhere" in capsys.readouterr().err


@pytest.mark.parametrize(
    "wanted", [[], ["--out", "a.pdf", "--units", "cubits"], ["--out", "a.pdf", "--paper", "a3"]]
)
def test_what_is_not_understood_ends_with_2(wanted, capsys):
    with pytest.raises(SystemExit) as ended:
        cli.main(["handout", str(demo_data()), *wanted])
    assert ended.value.code == 2
    assert "usage" in capsys.readouterr().err


def test_the_selling_days_are_those_that_are_typed(demo, tmp_path, capsys):
    place = tmp_path / "plan.pdf"
    days = ["--from", "Jun 10", "--to", "31 Aug", "--certainty", "7"]
    assert cli.main(["handout", str(demo_data()), "--out", str(place), "--shortlist", NAMES, *days]) == 0
    page = Question(demo, shortlist=("Aldrum", "Zelmor"), opens="06-10", closes="08-31", certainty=7)
    assert pages(place.read_bytes())[0] == pages(booklet.pdf(page))[0]
    capsys.readouterr()
    assert (
        cli.main(["handout", str(demo_data()), "--out", str(place), "--from", "Aug 31", "--to", "Jun 10"])
        == 1
    )
    assert capsys.readouterr().err == "The last selling day, Jun 10, comes before the first, Aug 31.\n"
