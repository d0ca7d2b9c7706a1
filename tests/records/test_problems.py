"""What is said about a fault."""

from __future__ import annotations

import pytest

from dashboard.records.problems import Problem, RecordError, listed, quoted


def test_a_sentence_has_place_value_rule_and_suggestion():
    problem = Problem(
        "error", "fruit.csv", "", 12, "suture_mm", "2.5 in", "has its unit typed in", "write 63.5"
    )
    assert problem.sentence == "fruit.csv, row 12, suture_mm: “2.5 in” has its unit typed in; write 63.5."


def test_a_sheet_is_part_of_the_place():
    assert (
        Problem("flag", "book.xlsx", "fruit", 3, "note", rule="is odd").sentence
        == "book.xlsx, sheet fruit, row 3, note: is odd."
    )


def test_a_question_keeps_its_mark():
    assert Problem(
        "error", "a.csv", value="x", rule="is not known", suggestion="did you mean “y”?"
    ).sentence.endswith("“y”?")


@pytest.mark.parametrize("hostile", ["a\nb", "a\x00b", "\u202eabc", "\ud800", "\ufeff"])
def test_characters_that_cannot_be_seen_are_spelt_out(hostile):
    assert quoted(hostile).isprintable()
    assert "\\" in quoted(hostile)


def test_a_long_value_is_shortened():
    assert len(quoted("x" * 5000)) < 70


def test_the_error_carries_every_problem_and_reads_as_their_sentences():
    problems = [Problem("error", "a.csv", rule="one"), Problem("error", "b.csv", rule="two")]
    error = RecordError(iter(problems))
    assert error.problems == tuple(problems)
    assert str(error) == "a.csv: one.\nb.csv: two."


@pytest.mark.parametrize(
    ("words", "said"), [([], ""), (["a"], "a"), (["a", "b"], "a or b"), (["a", "b", "c"], "a, b or c")]
)
def test_words_are_listed_as_one_says_them(words, said):
    assert listed(words, "or") == said


def test_a_place_tells_what_cannot_be_seen_too():
    """A heading or a file's name may hold it."""
    said = Problem("error", "fr\udcffuit.csv", row=1, column="da\x00te\u202e", rule="is not read").sentence
    assert said == "fr\\udcffuit.csv, row 1, da\\x00te\\u202e: is not read."
