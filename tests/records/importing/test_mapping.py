"""Answers are written and read back the same, whatever stands in them; a question is no answer."""

from __future__ import annotations

import tempfile
import tomllib
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from dashboard.records.importing.mapping import Answers, Question, read_answers, write_answers

_TEXT = st.text(max_size=12).map(lambda text: text.encode("utf-8", "ignore").decode("utf-8"))


@settings(max_examples=30)
@given(st.dictionaries(_TEXT, _TEXT, max_size=4), _TEXT, st.lists(_TEXT, min_size=1, max_size=3), _TEXT)
def test_what_was_answered_is_read_back(names, label, headings, said):
    answers = Answers()
    answers.part("cultivars").update(names)
    answers.layouts.append({"headings": headings, "columns": {label: {"is": said, "words": names}}})
    question = Question(("cultivars", label), "which\x00 one?", ("a\nb",), ("shown\r",), "offer\x07", label)
    answers.ask(question)
    with tempfile.TemporaryDirectory() as place:
        file = Path(place) / "mapping.toml"
        write_answers(file, answers, [question], ["suture", "cross"])
        again = read_answers(file)
    assert again.data == answers.data
    assert again.at(question.path) is None


def test_an_offer_is_a_question_until_the_mark_is_taken_away():
    answers = Answers(
        {"format": 1, "layout": [], "cultivars": {"Alvanne": "? Alvane", "Zorvan": "?", "Brintel": "Brintel"}}
    )
    assert [answers.at(("cultivars", name)) for name in ("Alvanne", "Zorvan", "Brintel", "none")] == [None, None, "Brintel", None]  # fmt: skip


def test_a_question_stands_above_its_answer_with_what_it_shows():
    answers = Answers()
    question = Question(
        ("trial", "tip_mm"), "which tip?", ("8", "11"), ("  “8” → 5/16 in",), "8", "penetrometer"
    )
    answers.ask(question)
    with tempfile.TemporaryDirectory() as place:
        write_answers(Path(place) / "mapping.toml", answers, [question])
        text = (Path(place) / "mapping.toml").read_text(encoding="utf-8")
    assert '# penetrometer: which tip?\n#   “8” → 5/16 in\n#   answer: 8 | 11\ntip_mm = "? 8"\n' in text
    assert tomllib.loads(text)["trial"] == {"tip_mm": "? 8"}
