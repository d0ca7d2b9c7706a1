"""How often pictures are painted: once on opening, once for what a visitor did."""

from __future__ import annotations

import pytest

from tests.browser import pages

PICTURES = ("size_sugar", "firmness_sugar", "size_firmness")
# Counts from the moment the library is there, before any picture is.
_COUNTED = """
window.painted = {};
const wait = setInterval(() => {
  const plot = window.Bokeh?.Models?.get("Plot")?.prototype.default_view?.prototype;
  if (!plot) return;
  clearInterval(wait);
  const paint = plot._actual_paint;
  plot._actual_paint = function () {
    window.painted[this.model.name] = (window.painted[this.model.name] ?? 0) + 1;
    paint.call(this);
  };
}, 0);
"""


def painted(page) -> dict[str, int]:
    page.wait_for_timeout(1000)  # nothing is painted once what had to be is
    counted = page.evaluate("window.painted")
    page.evaluate("window.painted = {}")
    return counted


def test_opening_and_a_filter_change_paint_each_picture_once(demo_site, visit, desk):
    desk.add_init_script(_COUNTED)
    page = visit(demo_site, pages.PICTURED)
    assert painted(page) == dict.fromkeys(PICTURES, 1)
    page.mouse.move(2, 2)  # not over a picture, which is painted when a mark is pointed at
    pages.tick(page, "white").check()
    assert painted(page) == dict.fromkeys(PICTURES, 1)


@pytest.mark.slow
def test_pictures_are_painted_when_they_are_asked_for_and_never_while_they_are_not_shown(
    demo_site, visit, desk
):
    desk.add_init_script(_COUNTED)
    page = visit(demo_site)
    pages.tick(page, "white").check()
    assert painted(page) == {}
    page.get_by_label("Pictures", exact=True).check()
    page.wait_for_url("**/*shown=pictures*")
    pages.until(page, "window.Bokeh.documents[0].is_idle")
    first = painted(page)
    assert set(first) == set(PICTURES)
    assert max(first.values()) <= 2  # once laid out, once at the size that it is given there
    page.get_by_label("List", exact=True).check()
    page.wait_for_url(lambda url: "shown" not in url)
    pages.tick(page, "nectarine").check()
    page.wait_for_url("**/*fruit_type=nectarine*")
    assert painted(page) == {}
