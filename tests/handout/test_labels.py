"""Sheets of labels: where they stand, what they say, and that a photograph of one is read back."""

from __future__ import annotations

import io
from datetime import date

import numpy as np
import pypdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageFilter

from dashboard import cli
from dashboard.handout.bench.day import day
from dashboard.handout.labels.grid import INCH, UNITS, grid, length
from dashboard.handout.labels.printed import Label, printed
from dashboard.handout.labels.samples import labels
from dashboard.handout.paper import PAPERS
from dashboard.records.declaration import Declaration
from dashboard.records.importing.bench import sample_name
from dashboard.records.photographed.codes import codes
from tests.records.small import tables, write_folder

HOSTILE = ("=1+1 <b>{0} %s</b>", "../../etc/passwd", "桃 \u202eback", "Žluťák", "n\x00ul")


def rendered(made: bytes, page: int = 0, dots: float = 200) -> Image.Image:
    return pypdfium2.PdfDocument(made)[page].render(scale=dots / INCH).to_pil().convert("RGB")


def label(sample: str, cultivar: str = "Alvane") -> Label:
    return Label(sample, cultivar, ("Low field", "Jul 3, 2024", "pick 1"))


@pytest.mark.parametrize("paper", PAPERS.values(), ids=str)
def test_the_plain_grid_fills_the_paper_between_like_edges(paper):
    made = grid(paper)
    _, x, y = made.place(made.on_a_sheet - 1)
    assert made.on_a_sheet == 24
    assert x + made.width + made.left == pytest.approx(paper.width)
    assert y + made.height + made.top == pytest.approx(paper.height)
    assert made.place(24) == (1, made.left, made.top)
    assert made.place(4) == (0, *made.place(4)[1:])
    assert made.place(4)[1] == pytest.approx(
        made.left + made.width + made.across
    )  # the second of the second row
    assert made.place(4)[2] == pytest.approx(made.top + made.height + made.down)


def test_measures_say_their_unit():
    """An inch is 25.4 mm (the international yard of 1959) and 72 points."""
    assert length("2.5in") == 180
    assert length("25.4 mm") == pytest.approx(length("1in")) == pytest.approx(72)
    assert pytest.approx(72 / 25.4) == UNITS["mm"]
    for said in ("2.5", "", "in", "-1in", "1e9mm", "٣mm", "2.5inch", "nanmm"):
        with pytest.raises(ValueError, match="is no length; write it with its unit"):
            length(said)


@settings(max_examples=40)
@given(st.integers(1, 40), st.integers(1, 40), st.integers(0, 60), st.integers(0, 60), st.integers(1, 260))
def test_a_grid_lies_on_its_paper_or_is_refused(columns, rows, edge, gap, size):
    paper = PAPERS["a4"]
    asked = (columns, rows, f"{size}mm", "", f"{edge}mm", f"{edge}mm", f"{gap}mm", f"{gap}mm")
    too_wide = edge + columns * size + (columns - 1) * gap > 210
    too_high = 2 * edge + (rows - 1) * gap >= 297
    if too_wide or too_high:  # A4 is 210 by 297 mm (ISO 216)
        with pytest.raises(ValueError, match="and A4 paper is"):
            grid(paper, *asked)
        return
    made = grid(paper, *asked)
    _, x, y = made.place(made.on_a_sheet - 1)
    assert x + made.width <= paper.width + 0.02
    assert y + made.height <= paper.height + 0.02
    assert made.height > 0


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("options", "said"),
    [
        (["--columns", "4", "--width", "2.5in"], "4 columns take 10.88 in, and Letter paper is 8.5 in wide"),
        (["--rows", "9", "--height", "40mm", "--units", "si"], "rows take 398.1 mm, and A4 paper is 297 mm high"),
        (["--top", "6in"], "8 rows leave no room for labels"),
        (["--columns", "0"], "0 columns of labels cannot be"),
        (["--width", "60"], "'60' is no length"),
        (["--columns", "12", "--rows", "30"], "has no room for the code"),
        (["--copies", "0"], "A sample has 1 to 100 copies"),
        (["--skip", "24"], "0 to 23 places can be used already"),
        (["--names", "Alvana"], "There is no cultivar 'Alvana' in these records; did you mean Alvane?"),
        (["--names", ""], "Name the cultivars: --names A,B."),
        (["--site", "nowhere"], "There is no site 'nowhere'"),
    ],
)  # fmt: skip
def test_what_cannot_be_printed_is_said_in_a_sentence(tmp_path, capsys, options, said):
    trial = write_folder(tmp_path / "trial", tables())
    asked = ["labels", str(tmp_path / "a.pdf"), "--trial", str(trial), "--site", "low", "--date", "2024-07-03", "--names", "Alvane"]  # fmt: skip
    assert cli.main([*asked, *options]) == 1
    assert said in capsys.readouterr().err
    assert not (tmp_path / "a.pdf").exists()


def test_what_may_be_ripe_has_a_label_each_with_the_name_the_bench_sheet_gives(demo, tmp_path):
    made = day(demo, Declaration(), "Maravel", date(2025, 7, 7))
    some, names = labels(made), made.rows["cultivar"].astype(str).tolist()
    assert [one.cultivar for one in some] == names
    content, short = printed(some, grid(PAPERS["letter"]), skip=2, cut=True)
    assert not short
    pages = pypdf.PdfReader(io.BytesIO(content)).pages
    assert len(pages) == (len(some) + 2 + 23) // 24
    assert all(name in pages[0].extract_text() for name in ("Maravel Station", *names[:22]))
    rendered(content, dots=150).save(tmp_path / "a.png")
    picks = [str(made.picks.get(name, 0) + 1) for name in names]
    wanted = [sample_name("maravel", "2025-07-07", name, pick) for name, pick in zip(names, picks, strict=True)]  # fmt: skip
    assert sorted(codes(tmp_path / "a.png")) == sorted(wanted[:22])  # two places were used already


@pytest.mark.parametrize("name", HOSTILE)
def test_a_name_that_tries_to_be_something_else_is_read_back_as_it_was(tmp_path, name):
    sample = f"low 2024-07-03 {name} 1"
    made, _ = printed([label(sample, name)], grid(PAPERS["letter"], 2, 8))
    rendered(made, dots=100).save(tmp_path / "a.png")
    assert codes(tmp_path / "a.png") == (sample,)


def test_a_name_cut_short_is_told_and_one_too_long_for_any_code_is_refused():
    _, short = printed([label("S1", "Alvane " * 30), label("S2")], grid(PAPERS["letter"]))
    assert short == ["Alvane " * 30]
    with pytest.raises(ValueError, match="too long for a code"):
        printed([label("x" * 3000)], grid(PAPERS["letter"], 1, 1))


@pytest.mark.parametrize("turned", [37, 180])
def test_a_photograph_of_a_label_is_read_turned_small_blurred_and_noisy(tmp_path, turned):
    made, _ = printed([label("low 2024-07-03 Alvane 1")], grid(PAPERS["letter"]))
    one = rendered(made, dots=150).crop((75, 75, 438, 240)).convert("L")
    one = one.rotate(turned, expand=True, fillcolor=255, resample=Image.Resampling.BICUBIC)
    bench = Image.new("L", (1200, 900), 90)
    bench.paste(one, (700, 200))
    grain = np.random.default_rng(5).normal(0, 18, (900, 1200))
    shot = np.clip(np.asarray(bench.filter(ImageFilter.GaussianBlur(0.8))) * 0.8 + grain, 0, 255)
    Image.fromarray(shot.astype(np.uint8)).save(tmp_path / "IMG_1.jpg", quality=70)
    assert codes(tmp_path / "IMG_1.jpg") == ("low 2024-07-03 Alvane 1",)
