"""A published slate: one file, nothing fetched, every figure the page's, names that stay text."""

from __future__ import annotations

import base64
import json
import re
import zlib
from html.parser import HTMLParser

import numpy as np
import pytest

from dashboard import cli, places
from dashboard.answers import catalogue as catalogues
from dashboard.answers.choices import FILTERS
from dashboard.answers.question import Question
from dashboard.charts import listing, style
from dashboard.handout.asking import with_second
from dashboard.handout.standings import ranked
from dashboard.page import app
from dashboard.places import demo_data
from dashboard.slate import publish, published
from dashboard.slate.publishing import LARGEST
from dashboard.slate.rows import data, groups, known
from dashboard.terms.traits import TRAITS
from dashboard.wording.figures import market_told
from tests.browser import sets

PROFILE = places.MARKETS / "regional_wholesale.toml"


@pytest.fixture(scope="module", autouse=True)
def prepared():
    app.prepare()


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return ranked(demo, PROFILE)


@pytest.fixture(scope="module")
def slate(asked) -> str:
    return published(asked, "Trial: a market")


class Cells(HTMLParser):
    """Rows of the table ``rows`` as texts, and every tag there is."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.rows: list[list[str]] = []
        self.tags: list[tuple[str, dict]] = []
        self._inside, self._cell = False, False
        self.feed(page)

    def handle_starttag(self, tag, attrs):
        self.tags.append((tag, dict(attrs)))
        if tag == "table":
            self._inside = dict(attrs).get("id") == "rows"
        elif tag == "tr" and self._inside:
            self.rows.append([])
        elif tag in ("td", "th") and self._inside:
            self.rows[-1].append("")
            self._cell = True

    def handle_endtag(self, tag):
        if tag in ("td", "th"):
            self._cell = False

    def handle_data(self, text):
        if self._inside and self._cell and self.rows:
            self.rows[-1][-1] += text


def test_the_table_without_javascript_is_the_page_s_to_the_last_digit(asked, slate):
    rows = Cells(slate).rows[1:]
    assert len(rows) == len(asked.ranking) == 355
    for cells, line in zip(rows, listing.table(asked, asked.ranking)["rows"], strict=True):
        told = line["cells"]
        assert [cell.strip() for cell in cells[2:]] == [
            cell[0] if isinstance(cell, list) else cell for cell in told[2:]
        ]
        name, classed, _mark, kind, why = told[1]
        assert cells[1] == f"{name}{kind}: {classed}{why}"


@pytest.mark.slow
def test_the_columns_asked_for_stand_in_the_table_of_the_slate(demo):
    told = ranked(demo, PROFILE, columns="price,bacterial_spot")
    head, *rows = Cells(published(told, "Trial: a market")).rows
    assert head[-2:] == ["Price per tree", "Bacterial spot (0 none to 5)"]
    lines = listing.table(told, told.ranking)["rows"]
    assert [row[-2:] for row in rows] == [line["cells"][-2:] for line in lines]


@pytest.mark.slow
def test_the_two_markets_that_take_most_fit_a_mail_together(demo):
    taken = {market: Question(demo, market=market).fit["taken"].sum() for market in demo.markets}
    *_, second, first = sorted(taken, key=taken.__getitem__)
    assert len(published(with_second(ranked(demo, first), second), first).encode()) <= LARGEST


@pytest.mark.slow
def test_two_buyers_have_two_verdicts_in_the_list_and_their_limits_beside_it(asked, demo):
    two = with_second(asked, "Roadside stand")
    page = published(two, "Trial")
    head, *rows = Cells(page).rows
    at = head.index("For Roadside stand")
    verdict = Question(demo, market="roadside_stand").fit["verdict"].astype(str)
    assert [row[at] for row in rows] == verdict.loc[two.ranking.index].tolist()
    for buyer in two.buyers:
        for line in market_told(buyer, two.units):
            assert line in page
    assert "<title>Trial: Regional wholesale and Roadside stand</title>" in page


def test_seasons_are_carried_of_whatever_one_of_two_buyers_takes(asked, demo):
    two = with_second(asked, "Low-acid white specialty")
    told, names = data(two, groups(two)), known(two)
    picked = set(demo.cultivars.index[demo.ripening.known])
    one, other = (
        set(names[np.isin(buyer["verdict"], ["qualifies", "may qualify"])]) for buyer in told["buyers"]
    )
    assert one - other  # each takes what the other does not
    assert other - one
    assert {names[row] for row in told["seasons"]["rows"]} == (one | other) & picked


def test_one_file_under_three_megabytes_that_asks_nobody_for_anything(slate):
    assert len(slate.encode()) <= LARGEST
    for tag, attributes in Cells(slate).tags:
        assert not {"src", "action", "srcset", "data", "poster"} & set(attributes), tag
        assert tag not in ("link", "iframe", "object", "embed", "base", "img")
        assert (attributes.get("href") or "#").startswith("#")
    assert "default-src 'none'" in slate
    assert style.COLOURS_CSS.strip() in slate


def test_what_the_browser_filters_by_is_what_the_page_filters_by(asked):
    names = known(asked)
    for group in groups(asked):
        choice = FILTERS[group["field"]]
        for option, value in zip(group["options"], choice.options(asked.catalogue), strict=True):
            page = Question(asked.catalogue, **{group["field"]: (value,) if choice.several else value})
            expected = set(asked.catalogue.cultivars.index[page.passes])
            assert {names[row] for row in option["members"]} & set(names) == expected, (
                group["field"],
                option,
            )


def test_the_figures_behind_the_pictures_are_the_page_s(asked):
    told, names = data(asked, groups(asked)), known(asked)
    assert [one["verdict"] for one in told["buyers"]] == [
        asked.fit["verdict"].astype(str).loc[names].tolist()
    ]
    for trait, values in told["better"].items():
        estimates = asked.values[trait].loc[names, "estimate"].to_numpy()
        assert np.array(values, dtype=float) == pytest.approx(estimates, abs=1e-4, nan_ok=True)
    assert len(told["calendar"]["place"]) == len(asked.windows)
    assert {len(column) for column in told["calendar"]["columns"].values()} == {len(asked.windows)}


def test_every_trait_of_every_cultivar_can_be_read(slate):
    for trait in TRAITS.values():
        assert f'<th scope="col">{trait.heading("us")}</th>' in slate
    assert "Invented example" in slate
    assert "local extension service" in slate


def test_hostile_names_stay_text(tmp_path):
    records = sets.hostile(tmp_path / "hostile")
    made = catalogues.load(records)
    profile = tmp_path / "market.toml"
    profile.write_text(sets.MARKET, encoding="utf-8")
    page = published(ranked(made, profile), f"<script>alert(1)</script> {sets.ALERT}")
    found = Cells(page)
    assert sum(tag == "script" for tag, _ in found.tags) == 4  # library, pictures, figures, manners
    assert not any(tag in ("img", "svg", "b") and "onerror" in attrs for tag, attrs in found.tags)
    assert not any(key.startswith("on") for _, attrs in found.tags for key in attrs)
    embedded = re.search(r'<script type="application/json" id="known">(.*?)</script>', page, re.S).group(1)
    assert set(json.loads(embedded)["names"]) >= set(sets.HOSTILE_NAMES[:2])
    assert "<" not in embedded


@pytest.mark.slow
def test_the_command_writes_it_or_says_why_not(tmp_path, capsys):
    place = tmp_path / "slate.html"
    assert cli.main(["publish", str(demo_data()), "--market", str(PROFILE), "--out", str(place)]) == 0
    assert place.stat().st_size <= LARGEST
    assert "MB: mail it" in capsys.readouterr().out
    for asked, told in (
        (["--market", str(PROFILE), "--out", str(tmp_path / "slate.pdf")], "ends in .html"),
        (["--market", str(tmp_path / "none.toml"), "--out", str(place)], "cannot be read"),
        (["--market", str(PROFILE), "--site", "moon", "--out", str(place)], "No reading at a site 'moon'"),
        (["--market", str(PROFILE), "--out", str(tmp_path / "no" / "slate.html")], "No such file"),
        (
            ["--market", str(PROFILE), "--market2", "Regional wholesale", "--out", str(place)],
            "is named twice",
        ),
        (["--market", str(PROFILE), "--market2", "moon", "--out", str(place)], "There is no market 'moon'"),
        (["--market", str(PROFILE), "--from", "soon", "--out", str(place)], "'soon' is no day"),
        (
            ["--market", str(PROFILE), "--from", "Aug 31", "--to", "Jun 10", "--out", str(place)],
            "Jun 10, comes before the first, Aug 31.",
        ),
    ):
        assert cli.main(["publish", str(demo_data()), *asked]) == 1
        said = capsys.readouterr().err
        assert told in said
        assert said.strip().count("\n") == 0


def unpacked(told: dict) -> tuple[np.ndarray, np.ndarray]:
    """(draws, rows) the first day and the one after the last, counted from ``first``."""
    kind = np.dtype(f"<u{told['bits'] // 8}")
    whole = np.frombuffer(zlib.decompress(base64.b64decode(told["packed"])), kind).astype(int)
    starts, lasting = whole.reshape(2, len(told["rows"]), told["draws"])
    starts = starts + np.array(told["base"])[:, None]
    return starts.T, (starts + lasting).T


def test_the_seasons_it_carries_count_as_the_page_counts(asked):
    names = known(asked)
    told = data(asked, groups(asked))["seasons"]
    starts, after = unpacked(told)
    assert {names[row] for row in told["rows"]} <= set(asked.catalogue.cultivars.index[asked.fit["taken"]])
    days = np.arange(told["span"][0], told["span"][1] + 1) - told["first"]
    counts = ((starts[:, :, None] <= days) & (after[:, :, None] > days)).sum(axis=1)
    np.testing.assert_array_equal(counts, asked.cover.counts)
    assert (told["certainty"], told["least"]) == (asked.certainty, asked.least)


@pytest.mark.slow
def test_it_is_published_for_selling_days_and_a_certainty(asked, demo, tmp_path):
    place = tmp_path / "slate.html"
    publish(demo, PROFILE, place, first="Jun 10", last="Aug 31", certainty=7)
    embedded = re.search(r'id="known">(.*?)</script>', place.read_text(encoding="utf-8"), re.S).group(1)
    told, plain = json.loads(embedded)["seasons"], data(asked, groups(asked))["seasons"]
    assert (told["selling"], told["chosen"], told["certainty"]) == ([161.0, 243.0], True, 7)
    assert (plain["selling"], plain["chosen"], plain["certainty"]) == (list(asked.selling), False, 8)
    assert {key: told[key] for key in ("packed", "first", "dates", "span")} == {
        key: plain[key] for key in ("packed", "first", "dates", "span")
    }
    assert told["gaps"]["7"] == "Gaps, days with fruit in fewer than 7 ordinary years in 10"
