"""A bench sheet straight into a store: what an import of it into a folder would have read, under its own name and hash."""

from __future__ import annotations

import argparse
import csv
import hashlib

import pytest

from dashboard.cli import main
from dashboard.handout.bench.command import then
from dashboard.records import read
from dashboard.records.earlier import earlier
from dashboard.records.importing.bench import HEADINGS
from dashboard.records.importing.incoming import bring_in
from dashboard.records.store.bringing import bring
from dashboard.records.store.history import brought_in, stayed_out
from tests.records.importing.test_bench import FIGURES, bench, five
from tests.records.small import tables, write_folder


def sheet_as(ending: str, path, *fives):
    """The sheet as a workbook, or as the file of the bench page."""
    if ending == "xlsx":
        return bench(path.with_suffix(".xlsx"), *fives)
    top = [["site", "low"], ["date", "2024-07-03"], [], list(HEADINGS)]
    with path.with_suffix(".csv").open("w", newline="") as file:
        csv.writer(file).writerows([*top, *(row for rows in fives for row in rows)])
    return path.with_suffix(".csv")


@pytest.mark.alike(2)
@pytest.mark.parametrize("ending", ["xlsx", "csv"])
def test_a_bench_sheet_comes_in_as_into_a_folder(ending, store, small, tmp_path, capsys):
    week = sheet_as(
        ending, tmp_path / "week", five("Alvane", FIGURES, "2", note="some bruised"), five("Brintel")
    )
    bring(store, small, "Ada")
    before = read(store).tables
    into = ["store", "bring", str(week), "--into", str(store), "--who", "Béla"]
    assert main(into) == 0, capsys.readouterr().err
    folder = write_folder(tmp_path / "folder", tables())
    assert bring_in([week], folder).code == 0
    for name, frame in read(folder).tables.items():
        assert read(store).tables[name].to_csv() == frame.to_csv(), name
    last = brought_in(store)[-1]
    assert (last.file, last.sha256) == (week.name, hashlib.sha256(week.read_bytes()).hexdigest())
    assert (last.who, last.new) == ("Béla", 11)
    asked = argparse.Namespace(trial=str(store), file="today.xlsx")
    assert "orchard-slate store bring {file} --into" in then(asked)
    assert main(into) == 0
    assert "has all of it already" in capsys.readouterr().out
    assert main(["store", "undo", "2", "--store", str(store)]) == 0
    assert {name: frame.to_csv() for name, frame in read(store).tables.items()} == {name: frame.to_csv() for name, frame in before.items()}  # fmt: skip


def test_what_is_odd_beside_the_rest_is_told_as_an_import_tells_it(
    store, small, tmp_path, capsys, monkeypatch
):
    bring(store, small, "Ada")
    folder = write_folder(tmp_path / "folder", tables())
    apart = [["2.5"] * 10, ["2.5"] * 10, ["14"] * 10, ["3"] * 10, ["12"] * 10]  # one cheek 11 lb firmer
    week = bench(tmp_path / "week.xlsx", five("Alvane", apart, "2"))
    into = bring_in([week], folder).text
    assert main(["store", "bring", str(week), "--into", str(store)]) == 0
    said = capsys.readouterr().out
    odd = [line.partition(": ")[2].partition(" ")[2] for line in into.splitlines() if line.startswith("flag")]
    assert odd
    assert "to look at: orchard-slate check" in said
    for line in into.splitlines():
        if "to look at" in line:
            assert line.partition(": ")[0] in said
    monkeypatch.setattr("dashboard.records.store.odd.MOST", 20)
    more = write_folder(
        tmp_path / "more", {"fruit": [["sample", "fruit", "suture_mm"], ["S1", "9", "60"]]}, None
    )
    assert main(["store", "bring", str(more), "--into", str(store)]) == 0
    assert "was not looked for in a store of this size" in capsys.readouterr().out


def test_a_fault_on_it_stops_it_unless_it_is_said(store, small, tmp_path, capsys):
    bring(store, small, "Ada")
    week = bench(tmp_path / "week.xlsx", five("Alvane", [["2,5", *["2.5"] * 9], *FIGURES[1:]]))
    into = ["store", "bring", str(week), "--into", str(store)]
    assert main(into) == 1
    assert "--despite-faults" in capsys.readouterr().out
    assert len(brought_in(store)) == 1
    assert main([*into, "--despite-faults"]) == 1
    assert [(one["file"], one["row"], one["value"]) for one in stayed_out(store, 2)] == [
        ("week.xlsx", "5", "2,5")
    ]


def test_a_sheet_that_asks_is_told_with_its_command(store, small, tmp_path, capsys):
    bring(store, small, "Ada")
    (tmp_path / "own.csv").write_text("Variety,Sweetness\nAlvane,12\n")
    assert main(["store", "bring", str(tmp_path / "own.csv"), "--into", str(store)]) == 1
    said = capsys.readouterr().err
    assert "own.csv” cannot be read without " in said
    assert "answer with  orchard-slate import" in said
    assert len(brought_in(store)) == 1


def test_a_corrected_bench_sheet_comes_in_where_somebody_says_so_and_its_history_stays(
    store, small, tmp_path, capsys
):
    bring(store, small, "Ada")
    into = ["--into", str(store), "--who", "Béla"]
    assert (
        main(["store", "bring", str(sheet_as("csv", tmp_path / "week", five("Alvane", FIGURES, "2"))), *into])
        == 0
    )
    other = [["2.6", *FIGURES[0][1:]], *FIGURES[1:]]
    week = str(sheet_as("csv", tmp_path / "week", five("Alvane", other, "2")))
    assert main(["store", "bring", week, *into]) == 1
    assert "where the sheet is right, bring it in with  --changes" in capsys.readouterr().out
    assert main(["store", "bring", week, *into, "--changes"]) == 0
    assert "1 row changed" in capsys.readouterr().out
    assert read(store).tables["fruit"]["suture_mm"].iloc[12] == pytest.approx(66.04)
    assert [(one.was, one.number) for one in earlier(store, "low 2024-07-03 Alvane 2")] == [("63.5", 3)]
