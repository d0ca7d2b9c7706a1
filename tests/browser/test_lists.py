"""A list in the browser: pasted with one name misspelt, mended by a press, on the slate; a file with markup; another list to compare with."""

from __future__ import annotations

from playwright.sync_api import expect

from tests.browser import pages


def test_names_are_pasted_one_is_mended_and_all_stand_on_the_slate(demo_site, visit, demo, tmp_path):
    first, second, third = [name for name in demo.cultivars.index if name.isalpha() and len(name) > 7][:3]
    wrong = third[:-1] + ("x" if third[-1] != "x" else "z")
    page = visit(demo_site, "?v=1&tab=shortlist")
    page.get_by_text("Bring a list", exact=True).click()
    page.get_by_label("Names, one a line").first.fill(f"{first.upper()}\n {second.lower()}; {wrong}")
    page.get_by_role("button", name="Find these names").first.click()
    expect(page.get_by_text("2 names found: 2 put on my slate.")).to_be_visible()
    page.get_by_role("button", name=f"use {third}", exact=True).click()
    expect(page.get_by_text(f"{third} was put on my slate for “{wrong}”.")).to_be_visible()
    pages.until(page, "names => names.every(name => location.search.includes(name))", [first, second, third])
    assert f"shortlist={first},{second},{third}" in page.url

    hostile = tmp_path / "list.csv"
    hostile.write_text(f"Cultivar\n<img src=x onerror=window.hurt=1>\n{first}\n", encoding="utf-8")
    page.get_by_label("Or open a file").first.set_input_files(hostile)
    expect(
        page.get_by_text("“<img src=x onerror=window.hurt=1>” (line 2): no cultivar here has that name")
    ).to_be_visible()
    assert pages.hurt(page) is None

    page.get_by_text("Compare with another list", exact=True).click()
    page.get_by_role("button", name="What this trial has and no nursery offers now").click()
    expect(page.get_by_role("heading", name="My slate and the other list")).to_be_visible()
