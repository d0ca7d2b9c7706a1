"""Every text can be read and every line seen; the formula is checked against published figures first."""

from __future__ import annotations

import itertools
import re
from pathlib import Path

import pytest

from dashboard.charts import style
from dashboard.charts.listed import LISTED_CSS
from dashboard.page.parts.elements import CHOICES_CSS, TOGGLE_CSS
from dashboard.terms.traits import CLASSES, UNKNOWN

TEXT, LINE = 4.5, 3.0  # WCAG 2.2, success criteria 1.4.3 and 1.4.11, level AA


def luminance(colour: str) -> float:
    """Relative luminance, W3C WCAG 2.2, definition "relative luminance" (threshold 0.04045)."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """W3C WCAG 2.2, definition "contrast ratio"."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def mixed(over: str, under: str, alpha: float) -> str:
    """The colour seen where ``over`` is drawn with ``alpha`` on ``under``."""
    parts = [
        round(alpha * int(over[at : at + 2], 16) + (1 - alpha) * int(under[at : at + 2], 16))
        for at in (1, 3, 5)
    ]
    return "#" + "".join(f"{part:02x}" for part in parts)


@pytest.mark.parametrize(
    ("one", "other", "published"),
    [
        ("#000000", "#ffffff", 21.0),  # W3C WCAG 2.2, "contrast ratio": "can range from 1 to 21"
        ("#ffffff", "#ffffff", 1.0),
        ("#999999", "#ffffff", 2.85),  # as three checkers agree in github.com/thepaciellogroup/cca-osx/issues/38
        ("#767676", "#ffffff", 4.54),  # from memory, WebAIM: the lightest grey that passes AA on white
        ("#ff0000", "#ffffff", 4.0),  # from memory, WebAIM "Contrast and Color Accessibility": pure red 4:1
        ("#00ff00", "#ffffff", 1.4),  # the same page: pure green 1.4:1
        ("#0000ff", "#ffffff", 8.6),  # the same page: pure blue 8.6:1
        # Okabe & Ito (2008), Color Universal Design, hex values as in R palette.colors("Okabe-Ito"); contrasts worked
        # out from the W3C definition in another program.
        ("#0072b2", "#ffffff", 5.185),
        ("#e69f00", "#ffffff", 2.252),
        ("#56b4e9", "#000000", 9.101),
        ("#d55e00", "#ffffff", 3.867),
        ("#cc79a7", "#000000", 6.86),
    ],
)  # fmt: skip
def test_the_formula_gives_the_published_contrast(one, other, published):
    digits = len(str(published).split(".")[1])
    assert round(contrast(one, other), digits) == published


GROUNDS = {
    "the page": style.PAPER,
    "a wash": style.WASH,
}


def stylesheet_colours(pattern: str, *sheets: str) -> set[str]:
    found = set()
    for sheet in sheets:
        found |= {colour.lower() for colour in re.findall(pattern + r"\s*(#[0-9a-fA-F]{6})\b", sheet)}
    return found


# White on green is looked at by itself below.
SHEETS = [text.replace(style.CONTAINED, "") for name, text in vars(style).items() if name.endswith("_CSS")]
SHEETS += [LISTED_CSS, CHOICES_CSS, TOGGLE_CSS]
# Grounds that the stylesheets lay under text.
GROUNDS |= {
    f"ground {colour}": colour
    for colour in sorted(stylesheet_colours(r"background:", *SHEETS))
    if colour not in {fill for fill, *_ in (*style.FLESH.values(), style.UNKNOWN_FLESH)}
}
TEXTS = {"ink": style.INK, "quiet": style.QUIET, "leaf": style.LEAF}
MARK_FILLS = {**{name: fill for name, (fill, *_) in style.FLESH.items()}, UNKNOWN: style.UNKNOWN_FLESH[0]}


def test_the_stylesheets_take_their_text_colours_from_the_list():
    written = stylesheet_colours(r"(?<![-a-z])color:", *SHEETS)
    assert written
    assert written <= {colour.lower() for colour in TEXTS.values()}


@pytest.mark.parametrize(("text", "ground"), itertools.product(TEXTS, GROUNDS))
def test_every_text_can_be_read_on_every_ground(text, ground):
    assert contrast(TEXTS[text], GROUNDS[ground]) >= TEXT


def test_white_text_can_be_read_on_a_button():
    assert contrast(style.PAPER, style.LEAF) >= TEXT


@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("line", ["INK", "LIMIT", "CHOSEN", "LEAF", "QUIET"])
def test_every_line_can_be_seen_on_every_ground(line, ground):
    assert contrast(getattr(style, line), GROUNDS[ground]) >= LINE


def test_a_bar_outside_the_market_can_be_seen_on_the_picture():
    assert contrast(style.OUT, style.PAPER) >= LINE


def test_a_limit_can_be_seen_where_its_own_shade_begins():
    shaded = mixed(style.LIMIT, style.PAPER, 0.07)
    for line in (style.LIMIT, style.INK, style.LEAF, style.CHOSEN):
        assert contrast(line, shaded) >= LINE


@pytest.mark.parametrize("flesh", MARK_FILLS)
def test_what_is_drawn_inside_a_mark_can_be_seen_on_its_fill(flesh):
    """Dot, cross and outline are of one colour, ink; the yellow fill has nothing inside, its outline lies on paper."""
    marks = style.FLESH.get(flesh, style.UNKNOWN_FLESH)[1:]
    if any("_" in mark for mark in marks):
        assert contrast(style.INK, MARK_FILLS[flesh]) >= LINE
    assert contrast(style.INK, style.PAPER) >= LINE


def test_bars_in_and_out_of_the_market_differ_in_lightness():
    assert contrast(style.LEAF, style.OUT) >= 2.5


def test_flesh_colours_differ_in_the_mark_and_not_in_colour_alone():
    for shape in CLASSES["shape_type"][1]:
        marks = [style.mark(flesh, shape) for flesh in (*style.FLESH, UNKNOWN)]
        assert len(set(marks)) == len(marks)
    for flesh in (*style.FLESH, UNKNOWN):
        assert style.mark(flesh, "flat") != style.mark(flesh, "round")


@pytest.mark.parametrize("flesh", [*CLASSES["flesh_colour"][1], UNKNOWN, "“><script>"])
@pytest.mark.parametrize("shape", [*CLASSES["shape_type"][1], UNKNOWN, "x y"])
def test_a_mark_in_the_table_has_a_rule_in_the_stylesheet(flesh, shape):
    words = style.mark_class(flesh, shape).split()
    assert words[0] in (*style.FLESH, "unknown")
    assert words[1] in ("round", "flat")
    assert f".mark.{words[0]} " in style.MARK_CSS
    assert words[1] == "round" or ".mark.flat " in style.MARK_CSS


def test_what_tells_by_its_color_keeps_it_where_the_system_picks_the_colors():
    (kept,) = re.findall(r"forced-colors: active\) \{ ([^{]*) \{ forced-color-adjust: none", style.MARK_CSS)
    assert {".mark", ".ring", ".bar", ".thin", ".swatch"} == set(kept.split(", "))


def test_marks_are_marks_that_bokeh_draws():
    from bokeh.core.enums import MarkerType

    for _, *marks in (*style.FLESH.values(), style.UNKNOWN_FLESH):
        assert set(marks) <= set(MarkerType)


def test_nothing_in_the_stylesheets_is_fetched():
    for sheet in SHEETS:
        assert not re.search(r"url\(|@import|https?:", sheet)


PACKAGE = Path(style.__file__).parents[1]
HEX = r"#(?:[0-9a-fA-F]{6}|[0-9a-fA-F]{3})\b"


def written(path: Path) -> list[str]:
    """Every colour a file writes, as six digits."""
    found = re.findall(HEX, path.read_text(encoding="utf-8"))
    return [
        "#" + "".join(2 * digit for digit in one[1:]).lower() if len(one) == 4 else one.lower()
        for one in found
    ]


def test_a_colour_of_the_page_is_named_once():
    """Black on white is what a reader of codes asks for, whatever the page looks like."""
    own = Path(style.__file__)
    named = written(own)
    assert sorted(set(named)) == sorted(named)
    files = [path for kind in ("py", "js", "css", "html") for path in PACKAGE.rglob(f"*.{kind}")]
    again = {path.name: set(written(path)) & set(named) for path in files if path != own}
    assert {name: colours for name, colours in again.items() if colours} == {"code.py": {"#ffffff"}}


@pytest.mark.parametrize("sheet", ["page/page.html", "slate/slate.css", "handout/bench/bench.css"])
def test_a_stylesheet_of_its_own_takes_every_colour_by_name(sheet):
    path = PACKAGE / sheet
    assert written(path) == []
    used = set(re.findall(r"var\((--\w+)\)", path.read_text(encoding="utf-8")))
    assert used
    assert used <= set(re.findall(r"(--\w+):", style.COLOURS_CSS))


# On dark paper every colour that is asked for by name is another one: what is written on what, and what is drawn on what.
ON_DARK = {
    TEXT: {
        "ink": (*("paper", "wash", "picked", "gap", "bare"), *(f"gap_{at}" for at in range(3)), *(f"shade_{at}" for at in range(4))),
        "quiet": ("paper", "picked"),
        "leaf": ("paper",),
        "spot": ("paper", "wash"),
        "paper": ("shade_4", "leaf"),
    },
    LINE: dict.fromkeys(("limit", "chosen", "out", "bare_edge", "covered", "shade_4"), ("paper",)),
}  # fmt: skip


@pytest.mark.parametrize("least", ON_DARK)
def test_on_dark_paper_everything_is_read_and_seen(least):
    assert style.DARK.keys() == style.NAMED.keys()
    faint = {
        (over, under): contrast(style.DARK[over], style.DARK[under])
        for over, grounds in ON_DARK[least].items()
        for under in grounds
        if contrast(style.DARK[over], style.DARK[under]) < least
    }
    assert faint == {}


def test_a_fruit_s_colours_are_seen_on_dark_paper():
    for flesh in MARK_FILLS:
        assert contrast(MARK_FILLS[flesh], style.DARK["paper"]) >= LINE, flesh


def test_a_sheet_by_name_asks_for_every_colour_and_stays_as_it_is_where_nothing_is_told():
    sheet = style.all_by_name(f"p {{ color: {style.INK}; background: {style.PAPER}; }}")
    assert sheet == f"p {{ color: var(--ink, {style.INK}); background: var(--paper, {style.PAPER}); }}"
