"""An answer is a data frame of its owner, and knows what it says."""

from __future__ import annotations

import json
import re

import holoviews as hv
import pandas as pd
import pytest

from dashboard import Asked, Records, Table
from dashboard.calls.table import answered


def test_rows_taken_from_it_keep_what_it_says(ask: Asked):
    whole = ask.ranking()
    for part in (
        whole.head(3),
        whole[whole["size_in"] > 2.5],
        whole[["size_in"]],
        whole.assign(mine=1),
        whole.sort_values("score"),
    ):
        assert isinstance(part, Table)
        assert part.said == whole.said
        assert part.evidence == whole.evidence
        assert "not insurance" in " ".join(part.cautions)


def test_it_is_the_reader_s_own(ask: Asked, records: Records):
    before = ask.question.ranking.copy()
    mine = ask.ranking("all")
    mine.loc[:, "size_in"] = 0.0
    mine.loc[:, "seasons"] = -1
    facts = records.cultivars
    facts.loc[:, "pit"] = "none"
    pd.testing.assert_frame_equal(ask.question.ranking, before)
    assert "none" not in set(records.cultivars["pit"])


def test_what_it_knows_can_be_written_down(ask: Asked):
    assert json.loads(json.dumps(ask.ranking("all").attrs))["said"] == list(ask.ranking("all").said)


def test_it_reads_as_the_page_does(ask: Asked):
    shown = ask.ranking("class")._repr_html_()
    text = re.sub(r"<[^>]*>", "|", shown)
    assert (
        text.index("qualify for Roadside stand")
        < text.index("Trenirrin")
        < text.index("likely range: of 90 %")
        < text.index("license")
    )
    assert re.search(r"\|2\.8\d \(2\.6\d–2\.9\d\)\|", text)
    assert "Size (in)" in text
    assert "size_in_low" not in text
    assert "more rows" in text
    chances = re.sub(r"<[^>]*>", "|", ask.ranking()[["chance_pct"]]._repr_html_())
    assert "|over 99|" in chances  # nothing is certain
    assert "|100|" not in chances


def test_text_of_records_stays_text():
    evil = "<img src=x onerror=alert(1)>"
    table = answered(
        pd.DataFrame({evil: [evil]}, index=pd.Index([evil], name=evil)), said=[evil], evidence=[evil]
    )
    assert "<img" not in table._repr_html_()


@pytest.mark.parametrize(
    "frame",
    [
        pd.DataFrame({"a": [1.0, None], "a_low": [0.5, None], "a_high": [2.0, None]}), pd.DataFrame([[1, 2]], columns=["a", "a"]), pd.DataFrame({"a": []}),
        pd.DataFrame({("a", "b"): [1]}), pd.DataFrame({0: [pd.NaT], 1: [None]}), pd.DataFrame(index=pd.RangeIndex(3)),
        pd.DataFrame({"a": [1]}, index=pd.MultiIndex.from_tuples([("x", "y")])), pd.DataFrame({"a_low": [1.0], "a": [2.0]}),
    ],
    ids=range(8),
)  # fmt: skip
def test_any_frame_can_be_shown(frame: pd.DataFrame):
    assert "</div>" in answered(frame, said=["Said."])._repr_html_()


def test_pictures_hold_their_figures(ask: Asked, records: Records):
    ranking = ask.ranking().head(12)
    drawn = ranking.picture("firmness", "sugar")
    points = drawn.get(hv.Points.__name__) or [one for one in drawn if isinstance(one, hv.Points)][-1]
    marks = [one for one in drawn if isinstance(one, hv.Points) and "cultivar" in one]
    assert points is not None
    assert list(marks[0].dimension_values("cultivar")) == sorted(ranking.index)
    slate = list(ranking.index[:4])
    for one in (drawn, ask.season(of=slate).picture(), ask.gaps(of=slate).picture(), records.estimates("sugar").picture(), ask.compare(*slate).picture()):  # fmt: skip
        assert hv.renderer("bokeh").get_plot(one).state is not None
    assert len(ask.season(of=slate).picture().Segments.II) == 4
    empty = ask.season().iloc[:0]
    assert hv.renderer("bokeh").get_plot(empty.picture()).state is not None
    assert hv.renderer("bokeh").get_plot(ranking.iloc[:0].picture()).state is not None


def test_other_tools_take_it_as_a_data_frame(ask: Asked):
    table = hv.Table(ask.ranking().head(5))
    assert len(table) == 5
    assert "size_in" in table
