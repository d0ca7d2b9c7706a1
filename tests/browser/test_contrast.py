"""Where the reader asks for high contrast, marks still tell what they mean and the open tab is told from the others."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser import pages
from tests.charts.test_style import TEXT, contrast

LOOKS = {"system colors": {"forced_colors": "active"}, "system colors, dark": {"forced_colors": "active", "color_scheme": "dark"}, "more contrast": {"contrast": "more"}}  # fmt: skip
_TABS = """tabs => tabs.map(tab => {
  const { color, backgroundColor, borderBottomColor, boxShadow } = getComputedStyle(tab);
  return [tab.getAttribute("aria-selected") === "true", JSON.stringify([backgroundColor, boxShadow]), color !== backgroundColor, borderBottomColor];
})"""
_MARKS = """marks => marks.map(mark => {
  const { backgroundColor, backgroundImage, transform } = getComputedStyle(mark);
  return JSON.stringify([backgroundColor, backgroundImage, transform]);
})"""


@pytest.mark.slow
@pytest.mark.parametrize("look", LOOKS.values(), ids=LOOKS)
def test_the_open_tab_and_the_marks_of_the_legend_can_be_told(demo_site, visit, chromium, look):
    context = chromium.new_context(**look)
    page = visit(demo_site, "?v=1&shown=pictures&market=roadside_stand", context)
    tabs = page.get_by_role("tab").evaluate_all(_TABS)
    (opened,) = [ground for is_open, ground, *_ in tabs if is_open]
    assert opened not in {ground for is_open, ground, *_ in tabs if not is_open}
    assert all(legible for *_, legible, _line in tabs)
    legend = page.locator("p.legend, div.legend").first.locator(".mark")
    drawn = legend.evaluate_all(_MARKS)
    assert len(drawn) == 5
    assert len(set(drawn)) == 5
    pages.into_hall(page)
    expect(page.locator("dialog .key .mark")).to_have_count(5)
    drawn = page.locator("dialog .key .mark").evaluate_all(_MARKS)
    assert len(set(drawn)) == 5
    context.close()


# Every text that is seen, its color, and the color of what lies under its middle: a box that was drawn before it, else the ground of
# what it stands in.
_READ = """dialog => {
  const hex = color => "#" + color.match(/[\\d.]+/g).slice(0, 3).map(one => Math.round(one).toString(16).padStart(2, "0")).join("");
  const clear = color => /^rgba.*, 0\\)$/.test(color);
  const over = at => at.assignedSlot ?? at.parentElement ?? at.getRootNode().host;
  const ground = at => { for (; at; at = over(at)) if (!clear(getComputedStyle(at).backgroundColor)) return getComputedStyle(at).backgroundColor; };
  const under = (text, svg) => {
    const box = text.getBoundingClientRect(), x = box.x + box.width / 2, y = box.y + box.height / 2;
    const boxes = [...svg.querySelectorAll("rect")].filter(one => one.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING).filter(one => {
      const { left, right, top, bottom } = one.getBoundingClientRect();
      return left <= x && x <= right && top <= y && y <= bottom && !["none", "transparent"].includes(one.getAttribute("fill"));
    });
    return boxes.length ? getComputedStyle(boxes.at(-1)).fill : ground(svg);
  };
  const seen = [];
  const look = root => {
    const walk = document.createTreeWalker(root, NodeFilter.SHOW_TEXT | NodeFilter.SHOW_ELEMENT);
    while (walk.nextNode()) {
      const one = walk.currentNode, at = one.parentElement, svg = at?.closest("svg");
      if (one.shadowRoot) look(one.shadowRoot);
      if (one.nodeType !== Node.TEXT_NODE || !one.textContent.trim() || !at?.checkVisibility() || at.closest("style, label, pattern")) continue;
      seen.push([one.textContent, hex(svg ? getComputedStyle(at).fill : getComputedStyle(at).color), hex(svg ? under(at, svg) : ground(at))]);
    }
  };
  look(dialog);
  return seen;
}"""
FORMS = {
    "season": "My slate in",
    "classes": "Each class",
    "beside": "Side by side",
    "cultivar": "among all",
    "fruit": "",
}
PAPERS = {"dark room": ({}, "d"), "system colors, dark": (LOOKS["system colors, dark"], ""), "system colors": (LOOKS["system colors"], "d")}  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize(("look", "key"), PAPERS.values(), ids=PAPERS)
def test_every_text_of_every_form_of_the_hall_is_read(demo_site, visit, chromium, look, key):
    context = chromium.new_context(viewport={"width": 1366, "height": 768}, **look)
    page = visit(demo_site, "?v=1&look=hall&market=roadside_stand&beside=Aldrum,Sibbrel&shortlist=Aldrum,Brovet&tab=season", context)  # fmt: skip
    dialog = page.get_by_role("dialog", name="Hall view")
    if key:
        page.keyboard.press(key)
    for tab, said in FORMS.items():
        page.evaluate(
            "tab => { history.pushState({}, '', location.search.replace(/&tab=\\w+|$/, `&tab=${tab}`)); dispatchEvent(new PopStateEvent('popstate')); }", tab
        )  # fmt: skip
        expect(dialog.locator(".form h2")).to_contain_text([said] if said else [])
        for opened in (
            ("", "v", "e", "Escape")
            if tab == "beside"
            else ("f", "Escape", "l", "?")
            if tab == "fruit"
            else ("",)
        ):
            if opened:
                page.keyboard.press(opened)
            if opened == "v":
                expect(dialog.locator(".against p").first).to_be_visible()
            if opened == "e":
                expect(dialog.locator(".evidence p").first).to_be_visible()
            if opened == "l":
                expect(dialog.locator(".limiting")).to_contain_text("qualify")
            read = dialog.evaluate(_READ)
            assert len(read) > 20
            assert [one for one in read if contrast(*one[1:]) < TEXT] == [], (tab, opened)
    context.close()


_UNSEEN_DRAWINGS = """() => {
  const found = [], look = root => { for (const at of root.querySelectorAll("*")) {
    if (at.shadowRoot) look(at.shadowRoot);
    if (at.matches(".drawn:not(.spread *), .spread") && at.checkVisibility()) found.push(getComputedStyle(at).backgroundColor);
  } };
  look(document); return found; }"""


@pytest.mark.slow
def test_on_a_dark_ground_of_the_system_every_text_and_drawing_is_seen(demo_site, visit, chromium):
    """Dark dots and letters in pictures keep their color there, so white lies under them."""
    context = chromium.new_context(**LOOKS["system colors, dark"])
    asked = "?v=1&market=roadside_stand&shortlist=Aldrum,Brovet&beside=Aldrum,Sibbrel&cultivar=Sibbrel"
    page, drawings = visit(demo_site, asked, context), 0
    for tab in ("site", "season", "cultivar", "beside"):
        pages.led(page, f"{asked}&tab={tab}")
        read = page.locator("body").evaluate(_READ)
        assert len(read) > 100
        assert [one for one in read if contrast(*one[1:]) < TEXT] == [], tab
        drawn = page.evaluate(_UNSEEN_DRAWINGS)
        assert set(drawn) <= {"rgb(255, 255, 255)"}, tab
        drawings += len(drawn)
    assert drawings > 20
    context.close()
