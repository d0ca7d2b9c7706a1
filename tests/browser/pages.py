"""What a visitor sees and does on the page, in the visitor's words."""

from __future__ import annotations

import re
import time
from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import Locator, Page, expect

PATIENCE = 20_000  # milliseconds: how long a loaded machine may take for anything; a fast one waits no longer than it needs
expect.set_options(timeout=PATIENCE)

DESK = {"width": 1366, "height": 900}
PHONE = {
    "viewport": {"width": 390, "height": 844},
    "is_mobile": True,
    "has_touch": True,
    "device_scale_factor": 2,
    "user_agent": "Mozilla/5.0 (Linux; Android 14) AppleWebKit/537.36 (KHTML, like Gecko) Chrome/130.0 Mobile Safari/537.36",
}
TABS = (
    "Candidates",
    "Season",
    "By class",
    "One cultivar",
    "Side by side",
    "My slate",
    "My site",
    "Records",
)
KEYS = ("fruit", "season", "classes", "cultivar", "beside", "shortlist", "site", "records")
PICTURED = "?v=1&shown=pictures"  # the first tab with its pictures, which are one press away
# What stands under each tab once its answer has come.
ANSWERED = {
    "Candidates": "h2.first",
    "Season": 'h2:has-text("My slate in"), h2:has-text("Season")',
    "By class": 'h2:has-text("Each class of fruit"), p:has-text("ripening model")',
    "One cultivar": 'p:has-text("Type a name"), h3:has-text("Before you order")',
    "Side by side": 'h2:has-text("Which one is better"), table.sides',
    "My slate": 'h2:text-is("My slate")',
    "My site": 'h3:has-text("Who gets enough"), h2:has-text("My site")',
    "Records": 'h2:has-text("What this page stands on")',
}
# The marks of each of the three pictures; they share a source, so what is chosen is asked of each all the same.
POINTS = """[...window.Bokeh.documents[0]._all_models.values()].filter(m => m.type === "Figure")
  .flatMap(f => f.renderers.filter(r => r.glyph?.marker?.field === "mark")).map(r => r.data_source)
  .map(m => ({columns: Object.keys(m.data), names: Array.from(m.data.cultivar), chosen: m.selected.indices}))"""


def until(page: Page, said: str, arg: object = None, seconds: float = 20) -> None:
    """Until an expression, or a function of ``arg``, holds in the page. The library's own waiting asks for text to be run as script,
    which the page's policy forbids."""
    end = time.monotonic() + seconds
    while not page.evaluate(said, arg):
        assert time.monotonic() < end, f"never came true: {said}"
        page.wait_for_timeout(50)  # between two askings


def awaited(page: Page) -> Page:
    """The page once its first answer stands on the screen and its pictures are drawn; in the hall the page under it rests."""
    expect(page.locator("p.count, dialog[open] h2.name").first).to_be_visible()
    until(page, "window.Bokeh.documents[0].is_idle")
    return page


def led(page: Page, query: str) -> Page:
    """The page after a walk to ``query`` through the browser's history, without loading it anew."""
    query = query or "?v=1"
    page.evaluate(
        "query => { history.pushState({}, '', query); dispatchEvent(new PopStateEvent('popstate')); }", query
    )
    tab = dict(part.split("=", 1) for part in query[1:].split("&")).get("tab", "fruit")
    expect(page.locator('[role="tab"][aria-selected="true"]')).to_have_text(TABS[KEYS.index(tab)])
    expect(page.locator(ANSWERED[TABS[KEYS.index(tab)]]).locator("visible=true").first).to_be_visible()
    until(page, "window.Bokeh.documents[0].is_idle")
    return page


def headline(page: Page) -> Locator:
    """The line over every tab."""
    return page.locator("p.count")


def left(page: Page) -> int:
    """How many cultivars the headline says pass."""
    return int(re.match(r"[\d,]+", headline(page).inner_text()).group().replace(",", ""))


def tick(page: Page, value: str) -> Locator:
    """The tick box of one option."""
    return page.locator(f'input[type="checkbox"][value="{value}"]')


def market(page: Page, name: str) -> Locator:
    """The buyer of that name; a second buyer is chosen from a list of its own."""
    return page.locator('fieldset[data-field="market"]').get_by_label(name)


def open_tab(page: Page, name: str) -> None:
    tab = page.locator('[role="tab"]', has_text=re.compile(rf"^{name}$"))
    if not tab.is_visible():  # on a phone, behind a word
        page.locator("button.more").click()
    tab.click()
    expect(tab).to_have_attribute("aria-selected", "true")
    expect(page.locator(ANSWERED[name]).locator("visible=true").first).to_be_visible()


def heading(page: Page) -> Locator:
    """What the strip says of my slate."""
    return page.get_by_role("region", name="My slate").get_by_role("heading")


def open_sheet(page: Page, name: str) -> Locator:
    """``Share`` or ``Present``."""
    page.get_by_role("button", name=name, exact=True).click()
    sheet = page.get_by_role("dialog", name=name)
    expect(sheet).to_be_visible()
    return sheet


def close_sheet(page: Page) -> None:
    """By Escape, from wherever the focus is; a list that stands open in it closes first."""
    for _ in range(2):
        page.keyboard.press("Escape")
    expect(page.get_by_role("dialog")).to_have_count(0)


def into_hall(page: Page) -> None:
    """By keys alone: a pointer that is not moved is hidden there."""
    show = page.get_by_role("button", name="Show it in the hall")
    if not show.is_visible():
        page.get_by_role("button", name="Present", exact=True).press("Enter")
    show.press("Enter")


def rows(page: Page) -> Locator:
    return page.locator("tbody tr[data-id]:visible")  # a tab that was opened before stays on the page, hidden


def names(page: Page, rows: str = "tbody tr[data-id]:visible") -> set[str]:
    """The cultivars in the table's rows."""
    return set(page.locator(rows).evaluate_all("rows => rows.map(row => row.dataset.id)"))


def press_download(page: Page, label: str) -> None:
    page.get_by_role("button", name=label).or_(page.get_by_role("link", name=label)).first.click()


def points(page: Page) -> list[dict]:
    """The three pictures of the first tab: their columns, names, and which are chosen."""
    return page.evaluate(f"() => {POINTS}")


def chosen(page: Page) -> list[set[str]]:
    """The names chosen in each picture."""
    return [{picture["names"][row] for row in picture["chosen"]} for picture in points(page)]


def draw_box(page: Page, picture: int = 0, start: tuple = (0.35, 0.35), end: tuple = (0.65, 0.65)) -> None:
    """A box drawn with the mouse inside one picture; corners as shares of its width and height."""
    page.locator(".bk-Canvas").nth(picture).wait_for()  # pictures are drawn while the page loads
    until(page, "window.Bokeh.documents[0].is_idle")
    area = page.locator(".bk-Canvas").nth(picture).bounding_box()
    at = [(area["x"] + x * area["width"], area["y"] + y * area["height"]) for x, y in (start, end)]
    page.mouse.move(*at[0])
    page.mouse.down()
    page.mouse.move(*at[1], steps=6)
    page.mouse.up()


_PLOT = """
  const figures = [...window.Bokeh.documents[0]._all_models.values()].filter(m => m.type === "Figure" && m.renderers
    .some(r => r.data_source && "cultivar" in r.data_source.data && "mark" in r.data_source.data));
  const find = view => {
    if (view.model === figures[picture]) return view;
    for (const child of view.children()) { const found = find(child); if (found) return found; }
  };
  let plot;
  for (const root of window.Bokeh.index.roots) plot = plot ?? find(root);
  const area = plot.el.getBoundingClientRect();
  const {x_scale, y_scale} = plot.frame;
"""
_PLACE = f"""([name, picture]) => {{{_PLOT}
  const {{glyph, data_source: {{data}}}} = figures[picture].renderers.find(r => r.glyph.marker?.field === "mark");
  const row = Array.from(data.cultivar).indexOf(name);
  const [x, y] = [glyph.x.field, glyph.y.field];
  return [area.x + x_scale.compute(data[x][row]), area.y + y_scale.compute(data[y][row])];
}}"""
_CORNERS = f"""([start, end, picture]) => {{{_PLOT}
  const [x0, x1] = [start[0], end[0]].map(share => x_scale.invert(share * area.width));
  const [y1, y0] = [start[1], end[1]].map(share => y_scale.invert(share * area.height));
  return [x0, x1, y0, y1];
}}"""


def frame_of(page: Page, start: tuple, end: tuple, picture: int = 0) -> list[float]:
    """A box's left, right, lower and upper edge in the units of a picture's axes; corners as for ``draw_box``."""
    return page.evaluate(_CORNERS, [start, end, picture])


def mark(page: Page, name: str, picture: int = 0) -> list[float]:
    """Where on the screen a cultivar's mark stands in one picture."""
    return page.evaluate(_PLACE, [name, picture])


SCROLLED = """() => {
  let most = scrollY;
  const look = root => root.querySelectorAll("*").forEach(at => {
    if (at.shadowRoot) look(at.shadowRoot);
    if (at.scrollTop > most) most = at.scrollTop;
  });
  look(document);
  return most;
}"""


def scrolled(page: Page) -> float:
    """How far down the page, or the part of it that scrolls, has been moved."""
    return page.evaluate(f"({SCROLLED})()")


def drag_thumb(page: Page, x: float, y: float, by: float, steps: int = 8) -> None:
    """One finger down, moved up or down the screen, and lifted: what the browser itself makes of a touch."""
    touch = page.context.new_cdp_session(page)
    at = lambda way: [{"x": x, "y": y + by * way}]  # noqa: E731
    touch.send("Input.dispatchTouchEvent", {"type": "touchStart", "touchPoints": at(0)})
    for step in range(1, steps + 1):
        touch.send("Input.dispatchTouchEvent", {"type": "touchMove", "touchPoints": at(step / steps)})
        page.wait_for_timeout(16)  # a frame of the screen, as a finger takes
    touch.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def hurt(page: Page) -> str | None:
    """What text from the records managed to run; None when all of it stayed text."""
    return page.evaluate("window.hurt ?? null")


@contextmanager
def messages(page: Page) -> Iterator[list[tuple[str, str]]]:
    """What goes over the wire as long as the block lasts: ("up" or "down", text of a frame)."""
    heard: list[tuple[str, str]] = []
    take = {way: lambda frame, way=way: heard.append((way, str(frame))) for way in ("up", "down")}

    def listen(socket) -> None:
        socket.on("framesent", take["up"])
        socket.on("framereceived", take["down"])

    page.on("websocket", listen)
    yield heard
