"""What really differs, in sentences: the sure ones first, then what cannot be told apart, and why what is not told is not."""

from __future__ import annotations

import re

import pytest
from markupsafe import Markup

from dashboard.answers.question import Question
from dashboard.answers.side_by_side import Told
from dashboard.estimates.comparisons import Difference
from dashboard.page.tabs.differing import differing
from dashboard.terms.traits import TRAITS
from dashboard.wording.differences import MORE, chance, sentence
from tests.answers.test_side_by_side import of_summaries
from tests.estimates.trials import trial

THREE = ("Briskwell", "Candover", "Glenhollow")
NOTHING_SURE = ("Albavik", "Ardivasse")  # of the demo


BY = Difference(
    "Briskwell", "Candover", estimate=7.112, se=1.0, df=30.0, low=2.794, high=11.43, above=0.99, together=True
)


def test_a_difference_is_a_plain_sentence():
    assert sentence(Told("size", BY, 0.0032), "us") == (
        "Briskwell is larger than Candover by 0.28 in (0.11 to 0.45); chance of being mistaken about 3 in 1,000."
    )
    assert (
        sentence(Told("size", BY, 0.0032), "si").split(";")[0]
        == "Briskwell is larger than Candover by 7.1 mm (2.8 to 11.4)"
    )
    assert "7.1 points of 10" in sentence(Told("red", BY, 0.01), "us")
    assert "7 of 100 fruit" in sentence(Told("split_pit", BY, 0.01), "us")
    assert " by 7.11 (2.79 to 11.43);" in sentence(Told("roundness", BY, 0.01), "us")


def test_every_trait_has_its_own_words():
    assert set(MORE) == set(TRAITS)


@pytest.mark.parametrize(
    ("of", "words"),
    [(0.0, "under 1 in 1,000"), (0.00099, "under 1 in 1,000"), (0.001, "about 1 in 1,000"), (0.0099, "about 10 in 1,000"), (0.01, "about 1 in 100"), (0.05, "about 5 in 100")],
)  # fmt: skip
def test_no_chance_is_none(of, words):
    assert chance(of) == words


def test_real_differences_come_first_and_the_others_by_trait(demo):
    names = tuple(demo.cultivars.index[[3, 40, 77, 120, 200, 310]])
    asked = Question(demo, beside=names)
    found = asked.side_by_side
    words = str(differing(asked))
    assert "Sure, even after looking at 165 differences:" in words
    sure, alike = words.split("<summary><b>")
    assert sure.count("<li>") == len(found.real) > 20
    assert f"<summary>{len(found.real) - 20} more that are sure</summary>" in sure
    assert alike.startswith(f"Not sure, they may differ or not: {len(found.alike)} of the 165</b>")
    lines = re.findall("<li>(.*?)</li>", alike)
    pairs = {
        trait: {frozenset((t.by.first, t.by.second)) for t in found.alike if t.trait == trait}
        for trait in TRAITS
    }
    labels = {trait: TRAITS[trait].label.lower() for trait in TRAITS}
    whole = [labels[trait] for trait in TRAITS if len(pairs[trait]) == 15]
    assert whole
    assert lines[0] == f"in {', '.join(whole)} no one from any other"
    some = [trait for trait in TRAITS if 0 < len(pairs[trait]) < 15]
    assert len(lines) == 1 + len(some)
    for trait, line in zip(some, lines[1:], strict=True):
        told_of = line.removeprefix(f"in {labels[trait]} ")
        named = {
            frozenset((one, other))
            for part in told_of.split("; ")
            for one, others in [part.split(" from ")]
            for other in others.split(", ")
        }
        assert named == pairs[trait]


def test_of_two_what_cannot_be_told_apart_is_told_with_its_figures(demo):
    asked = Question(demo, beside=NOTHING_SURE, units="si")
    lines = re.findall("<li>(.*?)</li>", str(differing(asked)))
    assert [line.partition(":")[0] for line in lines] == [trait.label for trait in TRAITS.values()]
    (size,) = (told.by for told in asked.side_by_side.alike if told.trait == "size")
    low = f"{size.low:.1f}".replace("-", "−")
    assert lines[0] == f"Size: {size.estimate:.1f} mm more in {size.first} ({low} to {size.high:.1f})."


def test_nothing_sure_is_said_to_be_so(demo):
    asked = Question(demo, beside=NOTHING_SURE)
    assert asked.side_by_side.differences
    assert not asked.side_by_side.real
    words = differing(asked)
    assert "Nothing is sure after looking at 11 differences" in words
    assert "Sure, even" not in words


def test_at_a_site_it_is_said_that_differences_are_over_all(catalogue):
    assert "Differences are over all sites" in differing(Question(catalogue, beside=THREE, site="River"))
    assert "Differences are over all sites" not in differing(Question(catalogue, beside=THREE))


def test_what_is_not_told_has_its_reason(catalogue):
    words = differing(Question(catalogue, beside=("Briskwell", "Unpicked")))
    assert "Unpicked has no reading of size." in words
    frame = trial(14, 2, 3)
    block = frame["cultivar"] <= "C006"
    made = of_summaries(catalogue, frame[block == (frame["site"] == "Hill")].reset_index(drop=True))
    words = differing(Question(made, beside=("C000", "C010")))
    assert "never shared a site in a season" in words
    raw = of_summaries(catalogue, trial().drop_duplicates("cultivar").reset_index(drop=True))
    assert Markup.escape(raw.worth["size"].plan.refused) in differing(Question(raw, beside=("C000", "C001")))
