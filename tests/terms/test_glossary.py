"""The list of words: the document is what the list says, and every word can be asked for."""

from __future__ import annotations

import re
import subprocess
import sys

import pytest

from dashboard.terms import glossary
from dashboard.terms.glossary import OURS, PRACTICE, TERMS, meaning
from tests.test_docs import ROOT, text

ASKED = (
    "cultivar", "check cultivar", "sample", "pick", "firmness", "°Brix", "soluble solids", "cheek difference", "acidity class",
    "pit", "ripening window", "days from the check", "adjusted for site and year", "likely range", "reliability", "evidence", "limit", "wish", "score",
    "chance that all limits hold", "nothing beats it", "stand-in", "cover", "gap", "site-season", "early, ordinary or late season",
    "numbered selection", "chill",
)  # fmt: skip


def test_the_document_is_written_from_the_list():
    assert text("docs/glossary.md") == glossary.markdown(), (
        "write it anew with  python -m dashboard.terms.glossary docs/glossary.md"
    )


def test_the_command_writes_the_document(tmp_path):
    place = tmp_path / "words.md"
    subprocess.run([sys.executable, "-m", "dashboard.terms.glossary", str(place)], cwd=ROOT, check=True)
    assert place.read_text(encoding="utf-8") == glossary.markdown()


@pytest.mark.parametrize("word", ASKED)
def test_a_word_of_the_page_is_explained_whatever_its_case(word):
    assert meaning(f" {word.upper()} ") == meaning(word)


def test_a_word_that_is_not_there_is_told_by_name():
    with pytest.raises(ValueError, match="'moonlight'"):
        meaning("moonlight")


def test_words_stand_once_and_in_order():
    names = [term.name.casefold() for term in TERMS]
    assert names == sorted(set(names))


@pytest.mark.parametrize("term", TERMS, ids=lambda term: term.name)
def test_a_meaning_is_one_or_two_plain_sentences(term):
    sentences = re.findall(r"[^.]+\.(?=\s|$)", term.meaning)
    assert 1 <= len(sentences) <= 2
    assert "".join(sentences) == term.meaning
    assert len(term.meaning) <= 200
    assert not re.search(r"\b(BLUP|REML|variance|posterior|covariance|model|credible)\b", term.meaning)
    assert "|" not in term.name + term.meaning  # would break the table
    published = re.fullmatch(r"[^()]+ \(\d{4}\)", term.source)
    assert term.source in ("", PRACTICE, OURS) or published


@pytest.mark.parametrize("word", ["check cultivar", "sample", "firmness", "chill", "°Brix", "gap"])
def test_a_fact_of_the_trade_or_a_choice_says_so(word):
    assert next(term.source for term in TERMS if term.name == word)


def test_the_readme_leads_there():
    assert "](docs/glossary.md)" in text("README.md")
