"""The season's cover and the weeks by class, driven as a grower and a nursery would."""

from __future__ import annotations

import re
from importlib.metadata import version

import pytest
from playwright.sync_api import expect

from dashboard.answers.question import Question
from dashboard.page.tabs.by_class import candidates_view
from dashboard.page.tabs.closers import closers_view
from dashboard.ripening import day_label
from tests.browser import pages

COVER = """() => [...window.Bokeh.documents[0]._all_models.values()].find(m => m.type === "Figure" && m.name === "cover")
  .renderers[0].data_source.data.y.reduce((a, b) => a + b, 0)"""
BOX = """([figure, row]) => {
  const found = [...window.Bokeh.documents[0]._all_models.values()].find(m => m.type === "Figure" && m.name === figure);
  const find = view => view.model === found ? view : view.children().map(find).find(Boolean);
  const plot = window.Bokeh.index.roots.map(find).find(Boolean), area = plot.el.getBoundingClientRect();
  const {x, y} = found.renderers[0].data_source.data;
  return [area.x + plot.frame.x_scale.compute(x[row]), area.y + plot.frame.y_scale.compute(y[row])];
}"""


def test_a_closer_put_on_the_shortlist_repaints_the_cover_in_one_message(demo_site, demo, visit):
    page = visit(demo_site)
    page.close()
    page = page.context.new_page()
    patches = []
    page.on(
        "websocket",
        lambda socket: socket.on(
            "framereceived", lambda frame: patches.append(frame) if "PATCH-DOC" in str(frame) else None
        ),
    )
    page.goto(demo_site.url + "?v=1&tab=season&shortlist=Aldrum,Zelmor")
    pages.awaited(page)
    before = page.evaluate(COVER)
    page.wait_for_timeout(500)  # nothing of the opening comes any more
    patches.clear()
    name = closers_view(Question(demo, shortlist=("Aldrum", "Zelmor")))["rows"][0]["name"]
    page.get_by_role("button", name=f"Put on my slate: {name}", exact=True).first.click()
    pages.until(page, f"before => ({COVER})() > before + 1", arg=before)
    expect(page.locator("p", has_text="Cover of my slate")).to_contain_text("3 cultivars")
    # Panel 1.10 sends what belongs to one change in a message a part; all follow from the one press.
    most = 10 if version("panel").startswith("1.10") else 1
    assert 1 <= len([frame for frame in patches if '"msgtype": "PATCH-DOC"' in str(frame)]) <= most
    page.close()


PLACE = """at => parseFloat(at.style.getPropertyValue("--a"))"""


@pytest.mark.slow
def test_a_late_season_moves_the_calendar(demo, walk):
    page = walk("?v=1&tab=season&shortlist=Aldrum&opens=05-20&closes=09-30")
    bar = page.locator(".slate .length")
    before = bar.evaluate(PLACE)
    page.get_by_label(re.compile("a late season")).click()
    expect(page.get_by_role("heading", name="My slate in a late season")).to_be_visible()
    assert bar.evaluate(PLACE) > before + 3 / 134  # three of the 134 selling days


@pytest.mark.slow
def test_the_slate_s_calendar_is_wholly_in_sight_and_a_class_opens_under_it(demo, walk):
    slate = [str(name) for name in Question(demo).ranking.index[:11]]
    page = walk(f"?v=1&tab=season&shortlist={','.join(slate)}")
    calendar = page.locator("section.slate")
    expect(calendar.locator(".name")).to_have_count(11)
    order = [bar.name for bar in Question(demo, shortlist=tuple(slate)).strip.bars]
    checks = [f"{name} (check)" if name in demo.checks else name for name in order]
    assert calendar.locator(".name").all_inner_texts() == checks
    box, tabs = calendar.bounding_box(), page.get_by_role("tablist").first.bounding_box()
    assert box["height"] < 11 * 24 + 120, box  # rows to press, under strip and tabs of a laptop
    assert 0 < box["y"] - (tabs["y"] + tabs["height"]) < 40  # nothing stands before it
    fold = page.locator("section.others summary").first
    fold.click()
    star = page.locator("section.others details[open] .keep").first
    expect(star).to_be_visible()
    name = star.get_attribute("aria-label").removeprefix("Put on my slate: ")
    star.click()
    expect(calendar.locator(".name")).to_have_count(12)
    calendar.get_by_role("button", name=re.compile(rf"^{re.escape(name)}( \(check\))?$")).click()
    expect(page.get_by_role("heading", name=name, exact=True, level=2)).to_be_visible()


def test_a_press_on_a_week_opens_its_candidates(demo, walk):
    page = walk("?v=1&tab=classes&market=regional_wholesale")
    asked = Question(demo, market="regional_wholesale")
    grid = asked.class_weeks
    cell = len(grid.starts) // 2
    page.mouse.click(*page.evaluate(BOX, ["weeks", cell]))
    opened = page.locator("caption", has_text=f"{grid.classes[0]}, {day_label(grid.starts[cell])}")
    expect(opened).to_be_visible()
    best = candidates_view(asked, grid.classes[0], grid.starts[cell])["rows"][0]["id"]
    expect(pages.rows(page).first).to_have_attribute("data-id", best)


@pytest.mark.slow
def test_the_nursery_s_address_opens_on_the_weeks(demo_site, visit):
    page = visit(demo_site, "nursery")
    expect(page.get_by_role("heading", name="Each class of fruit, week by week")).to_be_visible()
