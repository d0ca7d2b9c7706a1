"""Twelve ordinary ways of keeping such records: each comes in whole, and no figure stands in the trial that was not measured."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import numpy as np
import pytest
import xlsxwriter

from dashboard.records import read
from dashboard.records.summary import sample_summaries
from dashboard.terms.units import MM_PER_INCH, N_PER_KGF, N_PER_LBF
from tests.records.importing.season import FRUIT, Sample, came_in, held, is_true, season

GROUPS = ("Suture (in)", "Cross (in)", "Firmness 1 (lb)", "Firmness 2 (lb)", "Brix")


def figures(sample: Sample) -> list[list[object]]:
    """Ten figures a reading, in inches, pounds and degrees."""
    return [*(sample.eighths.T / 8).tolist(), *sample.pounds.T.tolist(), sample.brix.tolist()]


def week_sheet(
    sheet: xlsxwriter.workbook.Worksheet, rows: list[list[object]], titles: list[str], merge=True
) -> int:
    """Titles, groups over F1 … F10, and a row a sample: name, rating, fifty figures. Gives back the row below."""
    for line, title in enumerate(titles):
        sheet.merge_range(line, 0, line, 8, title) if merge else sheet.write(line, 0, title)
    top = len(titles) + 1
    for place, group in enumerate(GROUPS):
        first = 2 + FRUIT * place
        sheet.merge_range(top, first, top, first + FRUIT - 1, group) if merge else sheet.write(
            top, first, group
        )
    sheet.write_row(top + 1, 0, ["Variety", "Red", *[f"F{number}" for number in range(1, FRUIT + 1)] * 5])
    for line, row in enumerate(rows, top + 2):
        sheet.write_row(line, 0, row)
    return top + 2 + len(rows)


def wide(sample: Sample, name: str | None = None) -> list[object]:
    return [name or sample.cultivar, sample.ratings["red"], *np.concatenate(figures(sample)).tolist()]


def by_week(samples: list[Sample]) -> dict[date, list[Sample]]:
    weeks: dict[date, list[Sample]] = {}
    for sample in samples:
        weeks.setdefault(sample.day, []).append(sample)
    return weeks


LONG = (
    "Cultivar",
    "Site",
    "Date",
    "Fruit",
    "Suture (mm)",
    "Cross (mm)",
    "Firmness 1 (N)",
    "Firmness 2 (N)",
    "Brix",
)


def long_rows(samples: list[Sample], day=lambda day: day.isoformat()) -> list[list[object]]:
    """A row a fruit, in SI."""
    return [
        [sample.cultivar, sample.site, day(sample.day), number, *sample.si[number - 1].tolist()]
        for sample in samples for number in range(1, FRUIT + 1)
    ]  # fmt: skip


def csv_file(path: Path, head, rows, delimiter: str = ",", encoding: str = "utf-8", end: str = "\n", first: str = "") -> Path:  # fmt: skip
    lines = [delimiter.join(map(str, row)) for row in (head, *rows)]
    path.write_bytes(
        (first + end.join([*([] if not first else [""]), *lines]).removeprefix("") + end).encode(encoding)
    )
    return path


def test_1_a_sheet_a_week_with_titles_and_merged_cells(tmp_path):
    samples = season()
    with xlsxwriter.Workbook(tmp_path / "trial_2016.xlsx") as book:
        for day, week in by_week(samples).items():
            sheet = book.add_worksheet(f"Week of {day:%b %d}")
            titles = ["Stone fruit block", "Site: Low", f"Picked {day.month}/{day.day}/{day.year}"]
            below = week_sheet(sheet, [wide(sample) for sample in week], titles)
            sheet.write(below + 1, 0, "Average")
            sheet.write(below + 1, 2, 2.6)
            sheet.write(below + 3, 0, "Dusk Marrow")  # on the list, not picked
    outcome, replies = came_in(
        [tmp_path / "trial_2016.xlsx"],
        tmp_path / "trial",
        {"scale": "0 to 10, 10 best", "order": "month/day"},
    )
    assert {"order", "is", "Average", "rows_without_readings"} <= replies.kinds
    assert ("scale", "2016") in {question.path[-2:] for question in replies.asked}
    assert outcome.code == 0
    assert outcome.counts["unused"] == 3 * (1 + 2 + 1)  # the first title, the averages, who was not picked
    is_true(tmp_path / "trial", samples)
    assert read(tmp_path / "trial").tables["samples"]["red"].tolist() == [s.ratings["red"] for s in samples]


def test_2_the_same_columns_by_other_words(tmp_path):
    samples = season(2)
    first, second = samples[:5], samples[5:]
    one = csv_file(tmp_path / "a.csv", LONG, long_rows(first))
    head = [
        "Selection",
        "Block",
        "Harvest date",
        "Fruit no",
        "Sut (in)",
        "Equator (in)",
        "P1",
        "P2",
        "°Brix",
        "Taster",
    ]
    rows = [
        [s.cultivar, s.site, s.day.isoformat(), n, *(s.eighths[n - 1] / 8), *s.pounds[n - 1], s.brix[n - 1], "kept elsewhere"]
        for s in second for n in range(1, FRUIT + 1)
    ]  # fmt: skip
    other = csv_file(tmp_path / "b.csv", head, rows)
    answers = {("P1", "unit"): "lbf", ("P2", "unit"): "lbf", ("Taster", "is"): "not used"}
    outcome, replies = came_in([one, other], tmp_path / "trial", answers)
    units = [question.path[-2] for question in replies.asked if question.path[-1] == "unit"]
    assert sorted(units) == ["P1", "P2"]  # the others state theirs
    assert outcome.counts["unused"] == 51
    is_true(tmp_path / "trial", samples)


def test_3_dates_five_ways(tmp_path):
    samples = season(5)
    weeks = list(by_week(samples).values())
    ways = {
        "iso.csv": lambda day: day.isoformat(),
        "slashed.csv": lambda day: f"{day.day}/{day.month}/{day.year}",
        "short.csv": lambda day: f"{day.month}-{day.day}-{day:%y}",
        "named 2016.csv": lambda day: f"{day:%b} {day.day}",
        "number.csv": lambda day: str((day - date(1899, 12, 30)).days),
    }
    files = []
    for number, (name, way) in enumerate(ways.items()):
        head = [*LONG[:2], ("Date", "Pick date", "Picked", "Day", "Sampled")[number], *LONG[3:]]
        files.append(csv_file(tmp_path / name, head, long_rows(weeks[number], way)))
    answers = {
        ("Pick date", "order"): "day/month", ("Picked", "order"): "month/day", ("Picked", "century"): "20",
        ("Day", "year"): "file name", ("Sampled", "day_numbers"): "from 1900",
    }  # fmt: skip
    outcome, replies = came_in(files, tmp_path / "trial", answers)
    assert {question.path[-2:] for question in replies.asked} >= set(answers)
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)


def test_3_date_cells_of_another_country_are_asked_about_by_file(tmp_path):
    """3/7 typed where the month stands first has become March 7; 25/7 has stayed text. A text like 2016-07-05 says its day itself."""
    samples = season(4, year=2016)  # July 5, 12, 19 and 26
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        sheet, form = book.add_worksheet("all"), book.add_format({"num_format": "d/m/yyyy"})
        sheet.write_row(0, 0, LONG)
        for line, row in enumerate(long_rows(samples, lambda day: day), 1):
            day = row[2]
            sheet.write_row(line, 0, row[:2])
            if day.day <= 12 and line % 3:
                sheet.write_datetime(line, 2, date(day.year, day.day, day.month), form)
            else:
                sheet.write_string(
                    line, 2, day.isoformat() if day.day <= 12 else f"{day.day}/{day.month}/{day.year}"
                )
            sheet.write_row(line, 3, row[3:])
    more = season(4, year=2017)
    with xlsxwriter.Workbook(tmp_path / "right.xlsx") as book:
        sheet, form = book.add_worksheet("all"), book.add_format({"num_format": "d/m/yyyy"})
        sheet.write_row(0, 0, LONG)
        for line, row in enumerate(long_rows(more, lambda day: day), 1):
            sheet.write_row(line, 0, [*row[:2], "", *row[3:]])
            if row[2].day <= 12:
                sheet.write_datetime(line, 2, row[2], form)
            else:
                sheet.write_string(line, 2, f"{row[2].day}/{row[2].month}/{row[2].year}")
    text = season(4, year=2018)  # of a text file no cell holds a date
    third = csv_file(tmp_path / "text.csv", LONG, long_rows(text, lambda day: day.isoformat() if day.day <= 12 else f"{day.day}/{day.month}/{day.year}"))  # fmt: skip
    answers = {"order": "day/month", "book.xlsx": "day and month exchanged", "right.xlsx": "right"}
    _, replies = came_in([tmp_path / "book.xlsx", tmp_path / "right.xlsx", third], tmp_path / "trial", answers)  # fmt: skip
    assert [question.path[-1] for question in replies.asked if "date_cells" in question.path] == ["book.xlsx", "right.xlsx"]  # fmt: skip
    first = next(question for question in replies.asked if "date_cells" in question.path)
    assert first.shown[0] == "  “2016-05-07” → right: 2016-05-07; day and month exchanged: 2016-07-05"  # fmt: skip
    is_true(tmp_path / "trial", [*samples, *more, *text])


def test_4_fractions_limits_and_units_in_the_cell(tmp_path):
    samples = season(1)
    signs = {1: "⅛", 2: "¼", 3: "⅜", 4: "½", 5: "⅝", 6: "¾", 7: "⅞"}

    def eighths(value: int, number: int) -> str:
        whole, part = divmod(int(value), 8)
        if not part:
            return f'{whole}"'
        half = next(f"{part // d}/{8 // d}" for d in (4, 2, 1) if part % d == 0)
        return (f"{whole} {half}", f"{whole}{signs[part]}", f'{whole} {half}"', f"{whole}-{half} in")[
            number % 4
        ]

    rows = [wide(sample) for sample in samples]
    for row, sample in zip(rows, samples, strict=True):
        row[2:22] = [eighths(value, number) for number, value in enumerate(sample.eighths.T.ravel())]
    rows[0][22], rows[1][25], rows[2][50] = "<10", ">13", "7/8"  # firmness, sugar
    rows[3][30] = "12 kg"
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        week_sheet(book.add_worksheet("Week 27"), rows, ["Picked July 5, 2016"])
    outcome, _ = came_in(
        [tmp_path / "book.xlsx"], tmp_path / "trial", {"scale": "0 to 10, 10 best", "site": "Low"}
    )
    limits = [problem for problem in outcome.problems if "is a limit, not a reading" in problem.rule]
    assert [problem.value for problem in limits] == ["<10", ">13"]
    assert outcome.counts["aside"] == 4
    gone = {(samples[0].key, 1, 2), (samples[1].key, 4, 2), (samples[2].key, 9, 4), (samples[3].key, 9, 2)}
    is_true(tmp_path / "trial", samples, frozenset(gone))


SPELLINGS = {
    "Alvane": ("Alvane", "ALVANE", "Alvanne", "alvane ", "Al-vane"),
    "T 12-034": ("T 12-034", "T12-034", "T 12 034", "t 12-034", "T 12-O34"),
}


def test_5_five_spellings_of_a_name(tmp_path):
    samples = season(5)
    rows = []
    for week, some in enumerate(by_week(samples).values()):
        for sample in some:
            spelled = SPELLINGS.get(sample.cultivar, (sample.cultivar,) * 5)[week]
            rows += [[spelled, *row[1:]] for row in long_rows([sample])]
    meant = {" ".join(one.split()): name for name, some in SPELLINGS.items() for one in some}
    outcome, replies = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", meant)
    asked = {question.path[-1] for question in replies.asked if question.path[0] == "cultivars"}
    assert len(asked) == 8  # four spellings of each of two names beside the one that stands for itself
    is_true(tmp_path / "trial", samples)
    again, silent = came_in([tmp_path / "a.csv"], tmp_path / "trial", {})
    assert not silent.asked
    assert again.code == outcome.code == 0


def test_5_names_that_a_spreadsheet_turned_into_dates_and_numbers(tmp_path):
    samples = season(2)
    names = {"Corvale": "3-12", "Dusk Marrow": "1E5"}
    for sample in samples:
        sample.cultivar = names.get(sample.cultivar, sample.cultivar)
    spoiled = {"3-12": "2016-03-12", "1E5": "100000"}
    rows = [
        [spoiled.get(row[0], row[0]) if row[2] == "2016-07-12" else row[0], *row[1:]] for row in long_rows(samples)
    ]  # fmt: skip
    answers = {"2016-03-12": "3-12", "100000": "1E5", "3-12": "3-12", "1E5": "1E5"}
    _, replies = came_in([csv_file(tmp_path / "a.csv", LONG, rows)], tmp_path / "trial", answers)
    asked = {question.path[-1]: question for question in replies.asked if question.path[0] == "cultivars"}
    assert asked["2016-03-12"].offer == "3-12"
    assert asked["100000"].offer == "1E5"
    is_true(tmp_path / "trial", samples)


def test_6_codes(tmp_path):
    samples = season(1, sites=("Low", "High"))
    codes = {"Low": "L1", "High": "H2"}
    flesh = {"Alvane": "Y", "Brintel": "W", "Corvale": "Y", "T 12-034": "W", "Dusk Marrow": "r"}
    head = [*LONG, "Flesh", "Split pit"]
    rows = [[row[0], codes[row[1]], *row[2:], flesh[row[0]], 0] for row in long_rows(samples)]
    rows[3][4], rows[14][8], rows[25][6], rows[36][7] = "n/a", "-", "x", 0
    answers = {
        "n/a": "nothing", "-": "nothing", "x": "aside", ("Firmness 2 (N)", "zero"): "nothing", ("Split pit", "zero"): "a reading",
        "Y": "yellow", "W": "white", "r": "red", "L1": "Low", "H2": "High",
    }  # fmt: skip
    head_answers = {("Flesh", "is"): "flesh color"}
    outcome, replies = came_in(
        [csv_file(tmp_path / "a.csv", head, rows)], tmp_path / "trial", answers | head_answers
    )
    assert {"n/a", "-", "x", "zero", "Y", "W", "r"} <= replies.kinds
    assert outcome.counts["aside"] == 1
    gone = {(samples[0].key, 4, 0), (samples[1].key, 5, 4), (samples[2].key, 6, 2), (samples[3].key, 7, 3)}
    is_true(tmp_path / "trial", [*samples], frozenset(gone))
    records = read(tmp_path / "trial")
    assert records.tables["cultivars"].set_index("cultivar")["flesh_colour"].to_dict() == {
        name: {"Y": "yellow", "W": "white", "r": "red"}[code] for name, code in flesh.items()
    }
    assert (records.tables["samples"]["split_pit_pct"] == 0).all()


@pytest.mark.parametrize(
    ("encoding", "delimiter", "end", "first"),
    [
        ("utf-8-sig", ";", "\r\n", "sep=;"), ("utf-16", "\t", "\r\n", ""), ("windows-1252", ";", "\r\n", ""),
        ("utf-8", ";", "\r", ""), ("windows-1252", "\t", "\r", ""),
    ],
)  # fmt: skip
def test_7_encodings_decimal_commas_and_line_ends(tmp_path, encoding, delimiter, end, first):
    samples = season(1)
    for sample in samples:
        sample.cultivar = sample.cultivar.replace("Corvale", "Corvalé")
    rows = [[*row[:4], *(f"{value!r}".replace(".", ",") for value in row[4:])] for row in long_rows(samples)]
    file = csv_file(tmp_path / "a.csv", LONG, rows, delimiter, encoding, end, first)
    outcome, replies = came_in([file], tmp_path / "trial", {"decimals": ",", "a.csv": "windows-1252"})
    assert "decimals" in replies.kinds
    assert ("a.csv" in replies.kinds) == (encoding == "windows-1252")
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)


def test_8_means_beside_single_fruit(tmp_path):
    samples = season(2)
    single, meant = samples[:5], samples[5:]
    one = csv_file(tmp_path / "fruit.csv", LONG, long_rows(single))
    head = [
        "Cultivar",
        "Site",
        "Date",
        "n",
        "Mean size (mm)",
        "SD size (mm)",
        "Mean firmness (N)",
        "SD firmness (N)",
        "Avg Brix",
        "SD Brix",
    ]
    rows = []
    for sample in meant:
        size, firmness, sugar = sample.si[:, :2].mean(axis=1), sample.si[:, 2:4].mean(axis=1), sample.si[:, 4]
        rows.append([sample.cultivar, sample.site, sample.day.isoformat(), FRUIT])
        for trait in (size, firmness, sugar):
            rows[-1] += [repr(float(trait.mean())), repr(float(trait.std(ddof=1)))]
    other = csv_file(tmp_path / "means.csv", head, rows)
    outcome, _ = came_in([one, other], tmp_path / "trial", {})
    assert outcome.code == 0
    found = sample_summaries(read(tmp_path / "trial")).set_index(["cultivar", "date"])
    for sample in samples:
        row = found.loc[(sample.cultivar, np.datetime64(sample.day))]
        size = sample.si[:, :2].mean(axis=1)
        np.testing.assert_allclose([row["size"], row["size_n"], row["size_ss"]], [size.mean(), FRUIT, ((size - size.mean()) ** 2).sum()], rtol=1e-9)  # fmt: skip
        np.testing.assert_allclose([row["sugar"], row["sugar_n"]], [sample.brix.mean(), FRUIT])


def test_9_mixed_scales_and_units_are_asked_about_file_by_file(tmp_path):
    samples = season(1, 2015) + season(1, 2016)
    files = []
    for year, unit, low in ((2015, N_PER_KGF, True), (2016, N_PER_LBF, False)):
        rows = []
        for number, sample in enumerate(one for one in samples if one.day.year == year):
            sample.ratings["red"] = (1, 3, 5, 2, 4)[number] if low else (3, 9, 10, 6, 7)[number]
            pressure = sample.pounds * N_PER_LBF / unit
            rows += [
                [sample.cultivar, sample.site, sample.day.isoformat(), n, *sample.si[n - 1, :2], *pressure[n - 1], sample.brix[n - 1], sample.ratings["red"]]
                for n in range(1, FRUIT + 1)
            ]  # fmt: skip
        head = [*LONG[:6], "P1", "P2", "Brix", "Red"]
        files.append(csv_file(tmp_path / f"{year}.csv", head, rows))
    answers = {
        ("unit", "2015.csv"): "kgf", ("unit", "2016.csv"): "lbf",
        ("scale", "2015"): "1 to 5, 1 best", ("scale", "2016"): "0 to 10, 10 best",
    }  # fmt: skip
    outcome, replies = came_in(files, tmp_path / "trial", answers)
    assert {question.path[-2:] for question in replies.asked} >= set(answers)
    assert outcome.code == 0
    is_true(tmp_path / "trial", samples)
    red = read(tmp_path / "trial").tables["samples"].set_index("cultivar")["red"]
    assert red["Alvane"].tolist() == [10, 3]  # 1 of 1 to 5 is the best
    assert red["Corvale"].tolist() == [0, 10]


def test_10_ratings_only(tmp_path):
    samples = season(2)
    head = ["Variety", "Date", "Red", "Shape", "Comments"]
    rows = [[s.cultivar, s.day.isoformat(), s.ratings["red"], s.ratings["shape"], "=1+1"] for s in samples]
    file = csv_file(tmp_path / "Low block.csv", head, rows)
    answers = {"scale": "0 to 10, 10 best", "site": "file name", "Low block": "Low"}
    outcome, _ = came_in([file], tmp_path / "trial", answers)
    assert outcome.code == 0
    records = read(tmp_path / "trial")
    table = records.tables["samples"]
    assert table["red"].tolist() == [s.ratings["red"] for s in samples]
    assert table["note"].tolist() == ["=1+1"] * 10
    assert set(table["site"]) == {"Low"}
    assert len(records.tables["fruit"]) == 0


def test_11_duplicates_count_once_and_a_changed_value_is_set_aside(tmp_path):
    samples = season(2)
    rows = long_rows(samples)
    twice = csv_file(tmp_path / "twice.csv", LONG, [*rows, *rows[:10]])
    again = csv_file(tmp_path / "again.csv", LONG, rows)
    changed = [list(row) for row in rows]
    changed[13][8] = 19.9
    other = csv_file(tmp_path / "changed.csv", LONG, changed)
    outcome, _ = came_in([twice, again, other], tmp_path / "trial", {})
    told = [problem for problem in outcome.problems if problem.severity == "error"]
    assert len(told) == 1
    assert (told[0].file, told[0].row, told[0].column, told[0].value) == ("changed.csv", 15, "I", "19.9")
    assert outcome.counts["aside"] == 1
    is_true(tmp_path / "trial", samples)
    before = {path.name: path.read_bytes() for path in (tmp_path / "trial").glob("*.csv")}
    once_more, silent = came_in([again], tmp_path / "trial", {})
    assert once_more.code == 0
    assert not silent.asked
    assert {path.name: path.read_bytes() for path in (tmp_path / "trial").glob("*.csv")} == before


def test_11_two_samples_of_one_day_are_not_mixed(tmp_path):
    samples = season(1) + season(1, seed=2)
    rows = [wide(sample) for sample in samples]
    with xlsxwriter.Workbook(tmp_path / "book.xlsx") as book:
        week_sheet(book.add_worksheet("Week 27"), rows, ["Picked July 5, 2016"])
    outcome, _ = came_in(
        [tmp_path / "book.xlsx"], tmp_path / "trial", {"scale": "0 to 10, 10 best", "site": "Low"}
    )
    assert outcome.counts["aside"] >= 5 * 50
    assert len({problem.rule for problem in outcome.problems if "another sample" in problem.rule}) == 5
    is_true(tmp_path / "trial", samples[:5])


@pytest.mark.parametrize("count", [1_000, pytest.param(20_000, marks=pytest.mark.slow)])
def test_12_two_hundred_thousand_rows_with_forty_faults(tmp_path, count):
    """The whole of it with ``-m slow``; each time a twentieth, with as many faults."""
    chance = np.random.default_rng(7)
    size = chance.integers(500, 800, (count * FRUIT, 2)) / 10
    sugar = chance.integers(80, 160, count * FRUIT) / 10
    rows = []
    for sample in range(count):
        day = f"{2010 + sample % 10}-07-{1 + (sample // 10) % 28:02d}"
        for number in range(FRUIT):
            at = sample * FRUIT + number
            rows.append(
                [f"C{sample // 280:03d}", "Low", day, number + 1, size[at, 0], size[at, 1], sugar[at]]
            )
    faults = chance.choice(count * FRUIT, 40, replace=False)
    written = ("sixty", "6O.5", "600", "<40", "60,5 mm", "-60.5", "2024-08-05", "1 2")
    for number, at in enumerate(faults):
        rows[at][4] = f'"{written[number % 8]}"'
    file = csv_file(tmp_path / "many.csv", (*LONG[:6], "Brix"), rows)
    outcome, _ = came_in([file], tmp_path / "trial", {"sixty": "aside"})
    assert outcome.counts["aside"] == 40
    assert outcome.counts["filled"] == (count * FRUIT + 1) * 7
    places = {(problem.row, problem.column) for problem in outcome.problems if problem.severity == "error"}
    assert places == {(int(at) + 2, "E") for at in faults}
    records = read(tmp_path / "trial")
    fruit = records.tables["fruit"]
    order = {
        name: place for place, name in enumerate(dict.fromkeys(f"Low {row[2]} {row[0]}" for row in rows))
    }
    assert len(fruit) == count * FRUIT
    assert fruit["sample"].map(order).is_monotonic_increasing
    good = np.ones(count * FRUIT, dtype=bool)
    good[faults] = False
    np.testing.assert_allclose(fruit["suture_mm"].to_numpy()[good], size[good, 0])
    assert np.isnan(fruit["suture_mm"].to_numpy()[~good]).all()
    np.testing.assert_allclose(fruit["ssc_brix"], sugar)


def test_metric_and_inch_sheets_of_one_trial_stand_in_one_column(tmp_path):
    samples = season(2)
    rows = [
        [s.cultivar, s.site, s.day.isoformat(), n, *(s.eighths[n - 1] / 8), *s.pounds[n - 1], s.brix[n - 1]]
        for s in samples[5:] for n in range(1, FRUIT + 1)
    ]  # fmt: skip
    inches = [*LONG[:4], "Suture (in)", "Cross (in)", "Firmness 1 (lb)", "Firmness 2 (lb)", "Brix"]
    came_in([csv_file(tmp_path / "mm.csv", LONG, long_rows(samples[:5]))], tmp_path / "trial", {})
    came_in([csv_file(tmp_path / "in.csv", inches, rows)], tmp_path / "trial", {})
    is_true(tmp_path / "trial", samples)
    assert len(held(tmp_path / "trial")) == 10
    assert MM_PER_INCH == 25.4
