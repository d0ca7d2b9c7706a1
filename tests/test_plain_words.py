"""Words as docs/words.md wants them, and sentences that need no second reading."""

from __future__ import annotations

import re
from functools import cache

import pytest
import textstat

from tests.plain_words import ROOT, Said, documents, said, sentences

LONGEST, HARDEST = 25, 9.0
HARD = ROOT / "tests" / "reference" / "hard_sentences.txt"


@cache
def on_screen() -> tuple[Said, ...]:
    return tuple(said(ROOT / "dashboard"))


@cache
def unwanted() -> dict[str, tuple[re.Pattern[str], str]]:
    """Pattern and what to say instead, by what we do not say; what may be said all the same is no match."""
    rows = re.findall(
        r"^\| ([^|]+) \| ([^|]+) \| ([^|]*)\|$",
        (ROOT / "docs" / "words.md").read_text(encoding="utf-8"),
        re.MULTILINE,
    )
    found = {}
    for never, instead, may in rows[1:]:
        allowed = "".join(rf"(?!{_pattern(text)}\b)" for text in re.findall("`([^`]+)`", may))
        for word in never.split(", "):
            found[word.strip()] = (
                re.compile(rf"\b{allowed}{_pattern(word.strip())}\b", re.IGNORECASE),
                instead.strip(),
            )
    return found


def _pattern(text: str) -> str:
    return re.escape(text).replace(r"\*", r"\w*").replace(r"\ ", r"[\s-]+")


def test_the_list_is_read_whole():
    assert len(unwanted()) > 30
    assert "colour*" in unwanted()
    assert "lies bare" in unwanted()


@pytest.mark.parametrize("where", ["screen", "documents"])
def test_no_word_stands_that_we_do_not_use(where):
    texts = on_screen() if where == "screen" else tuple(documents())
    assert len(texts) > 100
    wrong = [
        f"{one.place}: {word} -> {instead}: {one.text[:90]}"
        for one in texts for word, (pattern, instead) in unwanted().items() if pattern.search(one.text)
    ]  # fmt: skip
    assert not wrong, "\n".join(wrong)


def test_no_sentence_on_the_screen_is_long_or_hard():
    texts = on_screen()
    every = [(one.place, sentence) for one in texts for sentence in sentences(one)]
    assert len(every) > 300
    known = {
        line.split("\t")[0]
        for line in HARD.read_text(encoding="utf-8").splitlines()
        if line and not line.startswith("#")
    }
    hard = {
        sentence: f"{place}: grade {grade:.1f}, {words} words: {sentence}"
        for place, sentence in every
        if (grade := textstat.flesch_kincaid_grade(sentence)) > HARDEST or len(sentence.split()) > LONGEST
        for words in [len(sentence.split())]
    }
    assert not (new := [told for sentence, told in hard.items() if sentence not in known]), "\n".join(new)
    assert not (gone := known - set(hard)), f"no longer hard, take off {HARD.name}: {gone}"


def test_a_hard_sentence_is_hard():
    assert textstat.flesch_kincaid_grade("Fruit is firm.") < HARDEST
    assert (
        textstat.flesch_kincaid_grade("Statistical regularization attenuates environmental heterogeneity.")
        > HARDEST
    )
