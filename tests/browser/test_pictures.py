"""Pictures saved from the page: sound SVG with the words round it as text, the same as PNG at twice the size, nothing run from a name."""

from __future__ import annotations

import io
import re
from xml.etree import ElementTree

import pytest
from PIL import Image
from playwright.sync_api import Page, expect

from tests.browser import pages, sets
from tests.browser.axe import found as faults

SVG = "{http://www.w3.org/2000/svg}"
FILE = r"orchard-slate-{}-\d{{4}}-\d\d-\d\d\.{}"


def menu(page: Page):
    """In the sheet of what leaves the page, which a press beside it closes."""
    opener = page.get_by_role("button", name="Save a picture", exact=True)
    if not opener.is_visible():
        pages.open_sheet(page, "Share")
    opener.click()
    opened = page.get_by_role("group", name="Pictures of this tab")
    expect(opened).to_be_visible()
    return opened


def saved(page: Page, title: str, kind: str) -> tuple[str, bytes]:
    """The file's name and what is in it; the menu is open."""
    with page.expect_download() as came:
        page.get_by_role("button", name=f"Save as {kind}: {title}", exact=True).click()
    return came.value.suggested_filename, came.value.path().read_bytes()


def words(svg: ElementTree.Element) -> str:
    return " ".join(text.text or "" for text in svg.iter(f"{SVG}text"))


def test_the_season_as_svg_and_as_png(demo_site, demo, visit):
    page = visit(demo_site, "?v=1&tab=season&year=ordinary&market=regional_wholesale&shortlist=Zelmor,Aldrum")
    opened = menu(page)
    assert [fault for fault in faults(page) if "menu" in fault or "Save" in fault] == []
    titles = opened.locator("span").all_inner_texts()
    assert titles[1:3] == ["The season, day by day", "Cover of my slate"]
    assert titles[0].startswith("My slate: 2 cultivars, selling")
    assert titles[3].startswith("When each of my slate is picked in an ordinary season")
    name, content = saved(page, titles[1], "SVG")
    assert re.fullmatch(FILE.format("season", "svg"), name)
    svg = ElementTree.fromstring(content)
    told = words(svg)
    assert told.startswith("The season, day by day Market: Regional wholesale. Limits: ")
    assert f"Invented example: {demo.records_title}." in told
    assert re.search(r"Made \w{3} \d{1,2}, \d{4}\.$", told)
    assert "Jul" in told  # of the picture's own axis
    assert len(list(svg.iter(f"{SVG}path"))) > 2
    name, content = saved(page, titles[1], "PNG")
    assert re.fullmatch(FILE.format("season", "png"), name)
    painted = Image.open(io.BytesIO(content)).convert("RGB")
    assert painted.size == (2 * int(svg.attrib["width"]), 2 * int(svg.attrib["height"]))
    assert painted.getpixel((3, 3)) == (255, 255, 255)
    colours = {colour: count for count, colour in painted.getcolors(1 << 20)}
    assert colours[0xC8, 0xD3, 0xCC] > 5000  # all cultivars
    assert colours[0x2C, 0x55, 0x45] > 2000  # those that qualify, or may
    name, content = saved(page, titles[0], "SVG")
    assert re.fullmatch(FILE.format("slate", "svg"), name)
    assert {"Aldrum", "Zelmor"} <= {text.text for text in ElementTree.fromstring(content).iter(f"{SVG}text")}
    page.keyboard.press("Escape")
    expect(opened).to_be_hidden()
    expect(page.get_by_role("dialog", name="Share")).to_be_visible()  # a second closes that, too
    page.keyboard.press("Escape")
    expect(page.get_by_role("dialog", name="Share")).to_be_hidden()


@pytest.mark.slow
def test_the_first_tab_s_three_pictures_stand_side_by_side(demo_site, visit):
    page = visit(demo_site, f"{pages.PICTURED}&market=roadside_stand&flesh_colour=white")
    menu(page)
    name, content = saved(page, "Size, firmness and sugar against each other", "SVG")
    assert re.fullmatch(FILE.format("tradeoffs", "svg"), name)
    svg = ElementTree.fromstring(content)
    told = words(svg)
    for part in (
        "Market: Roadside stand.",
        "filters: ",
        "white flesh",
        "Size (in)",
        "Firmness (lb)",
        "Invented example",
    ):
        assert part in told
    lefts = [
        float(part.attrib["x"]) for part in svg.findall(f"{SVG}svg") if float(part.attrib["width"]) > 100
    ]
    assert len(lefts) == 3
    assert lefts == sorted(set(lefts))
    name, content = saved(page, "Sugar against firmness", "PNG")
    assert re.fullmatch(FILE.format("firmness-sugar", "png"), name)
    painted = Image.open(io.BytesIO(content))
    assert min(painted.size) > 640
    assert len(painted.convert("RGB").getcolors(1 << 20)) > 50


@pytest.mark.slow
def test_a_tab_without_a_picture_says_so_and_another_tab_offers_its_own(demo_site, visit):
    page = visit(demo_site, "?v=1&tab=shortlist")
    expect(menu(page).get_by_role("status")).to_have_text("This tab shows no picture now.")
    pages.open_tab(page, "By class")
    expect(page.get_by_role("group", name="Pictures of this tab")).to_be_hidden()
    expect(menu(page).locator("span")).to_have_text(["Each class of fruit, week by week"])


@pytest.mark.slow
def test_a_hostile_name_stays_text_in_every_picture(hostile_site, visit):
    name = sets.HOSTILE_NAMES[0]
    page = visit(hostile_site, f"{pages.PICTURED}&tab=season&market=hostile")
    seen = ""
    for tab in ("Season", "Candidates", "Records"):
        pages.open_tab(page, tab)
        for title in menu(page).locator("span").all_inner_texts():
            _, content = saved(page, title, "SVG")
            svg = ElementTree.fromstring(content)
            assert not {"script", "img", "b", "foreignObject"} & {
                part.tag.removeprefix(SVG) for part in svg.iter()
            }
            seen += words(svg)
            saved(page, title, "PNG")
        pages.close_sheet(page)
    assert name[:20] in seen
    assert "Market: <img src=x" in seen  # the market's own name
    assert pages.hurt(page) is None


@pytest.mark.slow
def test_on_a_phone_the_menu_fits(demo_site, visit, phone):
    page = visit(demo_site, "?v=1&tab=season", phone)
    opened = menu(page)
    assert page.evaluate("document.documentElement.scrollWidth") <= pages.PHONE["viewport"]["width"]
    for button in opened.get_by_role("button").all():
        assert button.bounding_box()["height"] >= 44
