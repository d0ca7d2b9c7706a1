"""Every tab in five sizes: nothing cut off, nothing wider than the window, no serious fault that axe finds, and as it was when somebody last looked at it.

The pictures of ``tests/reference/screens`` are made by ``LOOK_ANEW=1 python -m pytest tests/browser/test_screens.py`` and looked at before they
are committed. They are compared in blocks of 16 by 16 pixels, so that a letter drawn a little otherwise is let pass and a missing word is not.
"""

from __future__ import annotations

import os
from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from tests.browser import axe, pages
from tests.browser.pages import KEYS, PHONE
from tests.test_docs import ROOT

PICTURES = ROOT / "tests" / "reference" / "screens"
SIZES = {
    "laptop": {"viewport": {"width": 1366, "height": 768}},
    "large": {"viewport": {"width": 1920, "height": 1080}},
    "tablet": {"viewport": {"width": 820, "height": 1180}},
    "phone": {**PHONE, "device_scale_factor": 1},
    "half": {"viewport": {"width": 600, "height": 900}},
}
BLOCK, FAR, MANY = 16, 24, 6  # pixels; of 255 on average in a block; blocks
SLATE = "v=1&market=roadside_stand&year=any&opens=06-10&closes=08-31&shortlist=Sibbrel,Brovet,Whelundo,Vintoquet&cultivar=Sibbrel&beside=Sibbrel,Brovet,Whelundo,Vintoquet"
CHOSEN = "&chosen=Sibbrel"  # in the pictures

# Text that its box does not show whole. What ends in dots on purpose has its whole text as a title.
CUT_OFF = """() => {
  const cut = [], walk = root => { for (const one of root.querySelectorAll("*")) {
    if (one.shadowRoot) walk(one.shadowRoot);
    if (![...one.childNodes].some(node => node.nodeType === 3 && node.data.trim()) || one.closest("option, select, script, style")) continue;
    const look = getComputedStyle(one), box = one.getBoundingClientRect();
    if (!one.checkVisibility({ opacityProperty: true, visibilityProperty: true }) || box.width < 2 || box.height < 2) continue;
    const hides = way => ["hidden", "clip"].includes(look[way]);
    const wide = hides("overflowX") && one.scrollWidth > one.clientWidth + 1, tall = hides("overflowY") && one.scrollHeight > one.clientHeight + 2;
    if ((wide || tall) && !(look.textOverflow === "ellipsis" && one.closest("[title]")) && !look.clipPath.includes("inset"))
      cut.push(one.tagName + "." + one.className + ": " + one.textContent.trim().slice(0, 60));
  } };
  walk(document); return [...new Set(cut)]; }"""


def settled(page) -> None:
    page.mouse.move(2, 2)
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    page.wait_for_timeout(400)  # pictures are painted once nothing moves


@pytest.mark.parametrize(
    ("opened", "sizes", "looked_through"),
    [
        ("phone", ["phone"], KEYS[::3]),
        pytest.param("phone", ["phone"], KEYS, marks=pytest.mark.slow),
        pytest.param("laptop", ["laptop", "large", "tablet", "half"], KEYS, marks=pytest.mark.slow),
    ],
    ids=["each day", "phone", "drawn"],
)
def test_no_word_is_cut_off_no_tab_is_wider_than_the_window_and_axe_finds_no_serious_fault(demo_site, visit, chromium, opened, sizes, looked_through):  # fmt: skip
    """The window opened as a laptop's is drawn to the other sizes, as a visitor may draw it: how things are arranged hangs on its width alone."""
    context = chromium.new_context(**SIZES[opened])
    page = visit(demo_site, f"?{SLATE}{CHOSEN}", context=context)
    faults = []
    for key in KEYS:
        pages.led(page, f"?{SLATE}{CHOSEN}&tab={key}")
        for size in sizes:
            page.set_viewport_size(SIZES[size]["viewport"])
            settled(page)
            faults += [f"{size}, {key}: {said}" for said in page.evaluate(CUT_OFF)]
            over = page.evaluate("document.scrollingElement.scrollWidth - innerWidth")
            if over > 0:
                faults.append(f"{size}, {key}: {over} px wider than the window")
            if size == opened and key in looked_through:  # the same parts stand in every size
                faults += [f"{size}, {key}: {said}" for said in axe.found(page)]
    context.close()
    assert not faults, "\n".join(faults)


def test_a_word_that_is_cut_off_is_seen(demo_site, visit):
    page = visit(demo_site)
    page.evaluate("""document.body.insertAdjacentHTML("afterbegin",
      '<div style="position: fixed; top: 0; width: 40px; overflow: hidden; white-space: nowrap">cultivars that qualify</div>')""")
    assert page.evaluate(CUT_OFF) == ["DIV.: cultivars that qualify"]


def differs(one: Image.Image, other: Image.Image) -> int:
    """How many blocks differ by more than FAR in their mean gray; all where the pictures are not of one size."""
    if one.size != other.size:
        return one.width * one.height // BLOCK**2
    gray = [np.asarray(picture.convert("L"), dtype=float) for picture in (one, other)]
    tall, wide = (side // BLOCK * BLOCK for side in gray[0].shape)
    blocks = [
        a[:tall, :wide].reshape(tall // BLOCK, BLOCK, wide // BLOCK, BLOCK).mean(axis=(1, 3)) for a in gray
    ]
    return int((abs(blocks[0] - blocks[1]) > FAR).sum())


@pytest.mark.parametrize("size", ["phone", pytest.param("laptop", marks=pytest.mark.slow)])
def test_every_tab_looks_as_it_was_looked_at(demo_site, visit, chromium, size, tmp_path):
    context = chromium.new_context(**SIZES[size])
    page = visit(demo_site, f"?{SLATE}", context=context)
    faults = []
    for key in KEYS:
        pages.led(page, f"?{SLATE}&tab={key}")
        page.evaluate("scrollTo(0, 0)")
        settled(page)
        taken, kept = page.screenshot(), PICTURES / f"{size}_{key}.png"
        if os.environ.get("LOOK_ANEW"):
            kept.parent.mkdir(exist_ok=True)
            Image.open(BytesIO(taken)).convert("P", palette=Image.Palette.ADAPTIVE, colors=64).save(
                kept, optimize=True
            )
        blocks = differs(Image.open(BytesIO(taken)), Image.open(kept))
        if blocks > MANY:
            (tmp_path / kept.name).write_bytes(taken)
            faults.append(f"{kept.name}: {blocks} blocks differ; see {tmp_path / kept.name}")
    context.close()
    assert not faults, "\n".join(faults)


def test_a_missing_word_is_seen():
    white = Image.new("L", (640, 480), 255)
    worded = white.copy()
    worded.paste(150, (100, 100, 180, 116))  # a word of eight letters, as dark as letters are on average
    assert differs(white, worded) > MANY
    assert differs(white, white) == 0
    assert differs(white, Image.new("L", (640, 400), 255)) > MANY
