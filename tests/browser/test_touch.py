"""A thumb that begins on a picture scrolls the page: on a phone, on a tablet that calls itself a desktop, in a narrow window of a desktop."""

from __future__ import annotations

from contextlib import suppress

import pytest
from playwright.sync_api import Locator, Page

from tests.browser import pages

DEVICES = {
    "phone": pages.PHONE,
    "tablet": {"viewport": {"width": 820, "height": 1180}, "has_touch": True},
    "half a desktop": {"viewport": {"width": 600, "height": 800}, "has_touch": True},
}
# Pictures of the tab that is open, and what of them a thumb must leave as it is: the ends of both axes, and what is chosen.
SEEN = """() => window.Bokeh.index.query((view) => view.model.type === "Figure" && view.bbox.width > 0 && view.el.checkVisibility())"""
STATE = f"""() => [...({SEEN})()].map(({{ model }}) => [
  model.name, model.x_range.start, model.x_range.end, model.y_range.start, model.y_range.end,
  ...model.renderers.flatMap((one) => Array.from(one.data_source?.selected.indices ?? [])),
])"""
CHOSEN = f"""() => [...({SEEN})()].flatMap(({{ model }}) => model.renderers.flatMap((one) => Array.from(one.data_source?.selected.indices ?? [])))"""
UP = 160  # pixels that the thumb moves; a scroll begins once it has moved some


def swiped(page: Page, picture: Locator) -> bool:
    """Whether a thumb that begins on a picture moved the page. A busy machine drops a gesture now and then: three are made."""
    picture.evaluate("at => at.scrollIntoView({ block: 'center' })")
    before = pages.scrolled(page)
    for way in (-1, 1, -1):  # whichever there is room for
        area = picture.bounding_box()
        pages.drag_thumb(page, area["x"] + area["width"] / 2, area["y"] + area["height"] / 2, by=way * UP)
        with suppress(AssertionError):
            pages.until(
                page, f"before => Math.abs(({pages.SCROLLED})() - before) > 60", arg=before, seconds=1
            )
            return True
    return False


@pytest.mark.slow
@pytest.mark.parametrize("device", ["phone", "half a desktop", pytest.param("tablet", marks=pytest.mark.slow)])  # fmt: skip
def test_a_swipe_that_begins_on_a_picture_scrolls_the_page_and_does_nothing_else(demo_site, visit, chromium, device):  # fmt: skip
    context = chromium.new_context(**DEVICES[device])
    page = visit(demo_site, f"{pages.PICTURED}&shortlist=Aldrum,Sibbrel", context)
    for tab, count in (("fruit", 3), ("season", 2), ("classes", 1)):
        pages.led(page, f"{pages.PICTURED}&shortlist=Aldrum,Sibbrel&tab={tab}")
        pages.until(page, f"[...({SEEN})()].length === {count}")
        before, chosen = page.evaluate(STATE), page.evaluate(CHOSEN)
        assert set(chosen) <= {0}  # by class the box that is told of has a frame
        pictures = page.locator(".bk-events:visible").all()
        assert len(pictures) == count
        for place, picture in enumerate(pictures):
            assert swiped(page, picture), f"{tab}, picture {place + 1}"
        assert page.evaluate(STATE) == before, tab
        assert page.evaluate(CHOSEN) == chosen, tab
    context.close()
