"""The bench page in a browser: a sample typed key by key, nothing lost, the walk on a phone without network."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from datetime import date
from pathlib import Path

import pandas as pd
import pytest
from playwright.sync_api import Browser, BrowserContext, Error, Page, Playwright, expect

from dashboard.answers import catalogue as catalogues
from dashboard.handout.bench.day import day
from dashboard.handout.bench.page import write_page
from dashboard.records import read
from dashboard.records.declaration import Declaration
from dashboard.records.importing.incoming import bring_in
from tests.browser import axe, finding, sets
from tests.browser.conftest import Watched
from tests.browser.pages import DESK, PATIENCE, PHONE, hurt, until

MOST = 190  # keys for ten fruit with ratings
TABLET = {"viewport": {"width": 820, "height": 1180}, "has_touch": True, "is_mobile": True}
DEVICES = {"laptop": {"viewport": {"width": 1366, "height": 768}}, "tablet": TABLET, "phone": PHONE}
WRITTEN = "() => document.documentElement.dataset.written === 'true'"
# Ten fruit as instruments show them: diameters in hundredths of an inch, firmness in tenths of a pound, some below ten, sugar in tenths.
DIAMETERS = [(2.94, 2.88), (2.71, 2.66), (3.02, 2.97), (2.85, 2.90), (2.64, 2.59), (2.77, 2.80), (2.93, 2.86), (2.69, 2.75), (3.10, 3.04), (2.81, 2.78)]  # fmt: skip
CHEEKS = [(10.5, 9.8), (11.2, 12.0), (8.9, 9.4), (10.0, 10.9), (12.6, 11.8), (9.1, 8.4), (10.7, 11.5), (13.2, 12.1), (7.9, 9.0), (10.3, 11.1)]  # fmt: skip
SUGAR = [12.4, 11.8, 13.0, 12.2, 10.9, 9.6, 12.7, 13.4, 11.1, 12.0]
JUDGED = {"shape": 8, "fuzz": 7, "red": 6, "attractiveness": 8, "split_pit_pct": 10, "cracked_tip_pct": 0}


@pytest.fixture(scope="module")
def trial(tmp_path_factory) -> Path:
    return sets.hostile(tmp_path_factory.mktemp("bench") / "trial")


@pytest.fixture(scope="module")
def bench(trial) -> Path:
    place = trial.parent / "bench.html"
    write_page(day(catalogues.load(trial), Declaration(), "low", date(2024, 7, 15)), place)
    return place


@pytest.fixture(scope="module")
def walk_of_demo(demo, tmp_path_factory) -> Path:
    place = tmp_path_factory.mktemp("walk") / "bench.html"
    write_page(day(demo, Declaration(), "maravel", date(2025, 7, 7)), place)
    return place


@pytest.fixture
def look(chromium: Browser) -> Iterator[Callable[..., Page]]:
    contexts: list[BrowserContext] = []
    watched = Watched()

    def open_file(place: Path, script: str = "", **how) -> Page:
        context = chromium.new_context(**(how or {"viewport": DESK, "accept_downloads": True}))
        contexts.append(context)
        context.add_init_script(script)
        page = watched.page(context)
        page.goto(place.as_uri())
        return page

    yield open_file
    for context in contexts:
        context.close()
    assert [fault for fault in watched.faults if "file://" not in fault] == []


class Fingers:
    """Presses keys one at a time and counts them."""

    def __init__(self, page: Page) -> None:
        self.page, self.count = page, 0

    def __call__(self, *keys: str) -> None:
        for key in keys:
            self.page.keyboard.press(key)
            self.count += 1


def digits(figure: float, decimals: int) -> list[str]:
    """A reading as it is typed: without its point, and Enter after fewer than three digits."""
    said = f"{figure:.{decimals}f}".replace(".", "")
    return [*said, *(["Enter"] if len(said) < 3 else [])]


def saved(page: Page, folder: Path) -> Path:
    with page.expect_download() as coming:
        page.locator("#save").click()
    place = folder / coming.value.suggested_filename
    coming.value.save_as(place)
    return place


def read_beyond(trial: Path) -> pd.DataFrame:
    return read(trial).tables["beyond"]


def cells(page: Page) -> dict[str, str]:
    """What stands on the bench, by the words that a screen reader says of each cell."""
    told = page.locator("#bench .cell").evaluate_all(
        "all => all.map((one) => one.getAttribute('aria-label'))"
    )
    return dict(one.split(": ", 1) for one in told if not one.endswith(": empty"))


def test_a_sample_of_ten_fruit_with_ratings_takes_few_keys_and_comes_in_as_typed(look, bench, trial, tmp_path):  # fmt: skip
    """Every key counts: finding the cultivar, each digit and Enter, ratings, shares, and back to the walk."""
    page = look(bench)
    name = sets.HOSTILE_NAMES[1]
    assert name.startswith("=")
    press = Fingers(page)
    page.locator("#find").focus()  # where the page stands after the sample before
    press(*name[:4], "Enter")
    expect(page.get_by_role("heading", name=name)).to_be_visible()
    for one, other in DIAMETERS:
        press(*digits(one, 2), *digits(other, 2))
    for one, other in CHEEKS:
        press(*digits(one, 1), *digits(other, 1))
    for one in SUGAR:
        press(*digits(one, 1))
    press("8", "7", "6", "8", "1", "Enter", "0")  # ratings; one and none of ten fruit
    press("Enter", "Enter")  # no note; done
    expect(page.locator("#find")).to_be_focused()
    print(f"\n{press.count} keys")
    assert press.count <= MOST
    expect(page.locator("#state")).to_contain_text("1 sample not saved in a file yet.")
    file = saved(page, tmp_path)
    assert file.name == "bench low 2024-07-15.csv"
    expect(page.locator("#state")).to_contain_text("Nothing waits to be saved.")
    before = len(read(trial).tables["fruit"])
    outcome = bring_in([file], trial)
    assert not outcome.questions
    assert outcome.code == 0, outcome.text
    records = read(trial)
    sample = records.tables["samples"].iloc[-1]
    assert sample["cultivar"] == name
    assert {key: sample[key] for key in JUDGED} == JUDGED
    fruit = records.tables["fruit"].iloc[before:]
    inch, pound = 25.4, 4.4482216152605
    assert fruit["suture_mm"].tolist() == pytest.approx([one * inch for one, _ in DIAMETERS])
    assert fruit["cross_mm"].tolist() == pytest.approx([one * inch for _, one in DIAMETERS])
    assert fruit["firmness_1_n"].tolist() == pytest.approx([one * pound for one, _ in CHEEKS])
    assert fruit["firmness_2_n"].tolist() == pytest.approx([one * pound for _, one in CHEEKS])
    assert fruit["ssc_brix"].tolist() == pytest.approx(SUGAR)
    assert hurt(page) is None


@pytest.mark.slow
def test_mending_a_full_sample_reaches_the_next_cell_and_never_the_note(look, bench, tmp_path):
    """Pressed and typed one after another, as with a caliper; what cannot be taken is said and is nowhere."""
    page = look(bench)
    page.get_by_role("button", name="Show").click()
    page.get_by_role("button", name="Measure Alvane").click()
    echo, at = page.locator(".echo"), lambda word: page.locator(f"[data-label='{word}']")
    page.keyboard.type("999276")  # refused, and a reading of its own
    expect(page.get_by_label("Fruit 1, Suture: 2.76")).to_be_visible()
    page.keyboard.type("999")
    expect(echo).to_have_text("Fruit 1, Across: 9.99 in is not taken. Only 0.60 to 5.90 is possible, so read it again.")  # fmt: skip
    page.keyboard.type("27")
    expect(echo).to_contain_text("9.99 in is not taken")
    page.keyboard.type("2" + "262261" * 9 + "105" * 30 + "86751")
    at("Note").click()
    page.keyboard.type("soft tips")
    full = cells(page)
    assert full["Split pits"] == "10"  # typed without Enter
    assert full["Note"] == "soft tips"

    at("Fruit 5, Suture").click()
    page.keyboard.type("264265")
    expect(echo).to_have_text("Fruit 5, Across: 2.61 became 2.65.")
    at("Shape").click()
    page.get_by_role("group", name="Press one").get_by_role("button", name="6", exact=True).click()
    page.get_by_role("button", name="Shape 6½").click()
    at("Fuzz").click()
    page.keyboard.type("6.5")
    page.keyboard.press("Enter")
    at("Cracked tips").click()
    page.keyboard.type("2.5")
    mended = {"Fruit 5, Suture": "2.64", "Fruit 5, Across": "2.65", "Shape": "6.5", "Fuzz": "6.5", "Cracked tips": "25"}  # fmt: skip
    assert cells(page) == full | mended
    expect(page.locator(".which")).to_have_text("Note")
    page.keyboard.type("7")
    expect(echo).to_contain_text("7 is not taken")
    page.keyboard.type("x")  # words need no press
    assert cells(page) == full | mended | {"Note": "soft tipsx"}
    text = saved(page, tmp_path).read_text(encoding="utf-8-sig")
    assert '"6.5","6.5","7","5","10","25","soft tipsx"' in text


def test_a_reading_past_the_end_of_the_gauge_comes_in_as_one(look, bench, trial, tmp_path):
    """Both ways of saying it: pressed before the end is typed, and put before what stands. One that others go past is doubted."""
    page = look(bench)
    page.get_by_role("button", name="Show").click()
    page.get_by_role("button", name="Measure Alvane").click()
    at = lambda word: page.locator(f"[data-label='{word}']")  # noqa: E731
    past = page.get_by_role("group", name="Past an end of the gauge")
    expect(past).to_be_hidden()  # of a caliper
    at("Fruit 1, Cheek 1").click()
    past.get_by_role("button", name="> More than").click()
    page.keyboard.type("130>130")  # moves on as any reading does
    page.keyboard.type("128131")
    at("Fruit 3, Cheek 1").click()
    page.keyboard.type(">")  # an end that nobody gave is none
    at("Fruit 2, Cheek 2").click()
    page.keyboard.type(">")
    at("Fruit 4, Cheek 1").click()
    page.keyboard.type(">>124")
    read = {"Fruit 1, Cheek 1": ">13.0", "Fruit 1, Cheek 2": ">13.0", "Fruit 2, Cheek 1": "12.8", "Fruit 2, Cheek 2": ">13.1", "Fruit 4, Cheek 1": "12.4"}  # fmt: skip
    assert {place.removesuffix(", look again"): value for place, value in cells(page).items()} == read
    at("Fruit 4, Cheek 2").click()
    page.keyboard.type("136")
    expect(page.locator("ul.odd")).to_contain_text("So the instrument goes on: read it again.")
    before = len(read_beyond(trial))
    assert bring_in([saved(page, tmp_path)], trial).code == 0
    beyond = read_beyond(trial).iloc[before:]
    assert beyond[["fruit", "reading", "side"]].to_numpy().tolist() == [[1, "firmness 1", "above"], [1, "firmness 2", "above"], [2, "firmness 2", "above"]]  # fmt: skip
    assert beyond["firmness_n"].tolist() == pytest.approx([one * 4.4482216152605 for one in (13.0, 13.0, 13.1)])  # fmt: skip


def test_a_look_is_no_pick_and_a_digit_without_enter_is_in_the_file(look, bench, tmp_path):
    page = look(bench)
    page.get_by_role("button", name="Show").click()
    state, walk = page.locator("#state"), page.locator("#walk")
    page.get_by_role("button", name="Measure Alvane").click()
    page.go_back()
    expect(walk).to_contain_text("1 looked at, 0 picked, 0 measured.")
    page.get_by_role("button", name="Measure Alvane").click()
    page.keyboard.type("29")  # 0.29 in cannot be
    page.go_back()
    expect(state).to_contain_text("Fruit 1, Suture of Alvane is half typed and in no file")
    expect(state).not_to_contain_text("Nothing waits")
    state.get_by_role("button", name="half typed").click()
    page.keyboard.type("4")
    page.locator("[data-label='Split pits']").click()
    page.keyboard.type("1")
    page.go_back()  # the browser's own way
    expect(walk).to_contain_text("1 looked at, 1 picked, 1 measured.")
    expect(state).not_to_contain_text("half typed")
    page.evaluate("location.hash = 'Alvane'")
    page.locator("[data-label='Cracked tips']").click()
    page.keyboard.type("1")
    text = saved(page, tmp_path).read_text(encoding="utf-8-sig")
    assert '"","","","","10","10",""' in text
    assert '"2.94"' in text
    expect(state).to_contain_text("Nothing waits to be saved.")


def test_of_two_tabs_one_takes_what_is_typed_and_nothing_is_lost(look, bench):
    one = look(bench)
    one.get_by_role("button", name="Show").click()
    one.get_by_role("button", name="Measure Alvane").click()
    one.keyboard.type("2942802")  # the last reading is not whole
    until(one, WRITTEN)
    other = one.context.new_page()
    other.set_default_timeout(PATIENCE)
    other.goto(bench.as_uri() + "#Alvane")
    expect(other.get_by_label("Fruit 2, Suture: 0.02")).to_be_visible()
    expect(one.get_by_role("alert")).to_contain_text("only one takes what is typed")
    one.bring_to_front()
    one.keyboard.type("999")
    other.bring_to_front()
    other.keyboard.type("71266")
    assert list(cells(other).values()) == ["2.94", "2.80", "2.71", "2.66"]
    until(other, WRITTEN)
    one.bring_to_front()
    one.get_by_role("button", name="Go on here").click()
    expect(one.get_by_label("Fruit 2, Across: 2.66")).to_be_visible()
    expect(one.get_by_role("alert")).to_be_hidden()
    one.keyboard.type("302")
    assert list(cells(one).values()) == ["2.94", "2.80", "2.71", "2.66", "3.02"]
    expect(other.get_by_role("alert")).to_be_visible()
    until(one, WRITTEN)
    one.close()
    other.reload()  # opened anew it takes over
    expect(other.get_by_label("Fruit 3, Suture: 3.02")).to_be_visible()
    for _ in range(4):
        other.keyboard.press("Control+z")
    assert list(cells(other).values()) == ["2.94"]


def test_a_browser_that_is_killed_loses_nothing_that_was_typed(driver: Playwright, bench, tmp_path):
    """Ended by the system from one moment to the next, as where the battery is empty; half a reading is there, too."""

    def begun() -> BrowserContext:
        return driver.chromium.launch_persistent_context(
            tmp_path / "profile", executable_path=finding.chromium(driver.chromium.executable_path), args=list(finding.FLAGS)
        )  # fmt: skip

    context = begun()
    page = context.pages[0]
    page.goto(bench.as_uri())
    page.get_by_role("button", name="Show").click()
    page.get_by_role("button", name="Measure Alvane").click()
    page.keyboard.type("2942802712662")
    until(page, WRITTEN)
    with suppress(Error):  # the answer never comes
        context.new_cdp_session(page).send("Browser.crash")
    context = begun()
    page = context.pages[0]
    page.goto(bench.as_uri() + "#Alvane")
    expect(page.get_by_label("Fruit 3, Suture: 0.02")).to_be_visible()
    assert list(cells(page).values()) == ["2.94", "2.80", "2.71", "2.66", "0.02"]
    context.close()


FULL = "Storage.prototype.setItem = () => { throw new DOMException('full', 'QuotaExceededError') }; "
FORBIDDEN = "for (const name of ['localStorage', 'indexedDB']) Object.defineProperty(window, name, { get() { throw new DOMException('no', 'SecurityError') } })"


@pytest.mark.parametrize("script", [FULL, FORBIDDEN], ids=["full", "forbidden"])
def test_a_browser_that_keeps_nothing_says_so_at_once_and_offers_the_file(look, bench, tmp_path, script):
    page = look(bench, script)
    expect(page.get_by_role("alert")).to_contain_text("This browser keeps nothing")
    page.get_by_role("button", name="Show").click()
    page.get_by_role("button", name="Measure Alvane").click()
    page.keyboard.type("294280")
    with page.expect_download() as coming:
        page.get_by_role("button", name="Save the file", exact=True).click()
    coming.value.save_as(tmp_path / "a.csv")
    assert '"2.94"' in (tmp_path / "a.csv").read_text(encoding="utf-8-sig")


@pytest.mark.alike(9)
@pytest.mark.parametrize("device", DEVICES)
def test_the_walk_and_the_bench_on_a_touch_without_network(look, walk_of_demo, device, tmp_path):
    page = look(walk_of_demo, **DEVICES[device], accept_downloads=True)
    page.context.set_offline(True)
    touch = page.tap if DEVICES[device].get("has_touch") else page.click
    expect(page.locator("#walk")).to_contain_text("61 cultivars may be ripe this week, in walking order.")
    if device == "phone":
        assert axe.found(page) == []
    touch("[data-at='looked Sotrel']")
    touch("[data-at='picked Tulilto']")
    expect(page.locator("#walk")).to_contain_text("2 looked at, 1 picked, 0 measured.")
    if device != "laptop":  # there the bench is open beside the walk
        touch("[data-at='bench Tulilto']")
    pad = page.get_by_role("group", name="Keypad")
    for sign in "294249":
        touch(f".keypad button:text-is('{sign}')")
    expect(page.get_by_role("status").filter(has_text="apart")).to_have_text("Fruit 1: the diameters are 0.45 in apart. Measure both again.")  # fmt: skip
    touch("button:text-is('Undo')")
    touch("button:text-is('Skip')")
    assert cells(page) == {"Fruit 1, Suture": "2.94"}
    for sign in ("9", "9", "9", "Next"):
        touch(f"#bench button:text-is('{sign}')")
    expect(page.locator(".echo")).to_have_text("Fruit 2, Suture: 9.99 in is not taken. Only 0.60 to 5.90 is possible, so read it again.")  # fmt: skip
    assert axe.found(page, colors=device == "laptop") == []
    touch("[data-label='Looks']")
    expect(pad).to_be_hidden()
    strip = page.get_by_role("group", name="Press one")
    strip.get_by_role("button", name="7", exact=True).click()
    strip.get_by_role("button", name="Looks 7½").click()
    assert cells(page)["Looks"] == "7.5"
    if device == "tablet":
        assert axe.found(page, colors=False) == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    if device == "phone":
        touch("button.back")
    text = saved(page, tmp_path).read_text(encoding="utf-8-sig")
    assert '"Sotrel","22","22","looked at, not picked"' in text
    assert '"Tulilto","24","1","Jul 6 – Jul 15","1","suture_in","2.94"' in text
