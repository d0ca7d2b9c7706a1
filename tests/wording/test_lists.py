"""Lists in words: who could be dropped, as the tab says it and as a file holds it, against taking off."""

from __future__ import annotations

from dataclasses import replace

import pytest

from dashboard.answers.planning import plan
from dashboard.answers.question import Question
from dashboard.answers.replacing import droppable
from dashboard.handout import tables
from dashboard.wording.lists import DROPPABLE, SPARE, compared_told, droppable_filed, droppable_told


@pytest.fixture(scope="module")
def asked(demo) -> Question:
    return Question(demo, market="roadside_stand", opens="06-10", closes="08-31")


def test_all_that_could_be_dropped_stand_in_the_file_and_on_the_tab(asked):
    names = asked.wanted.candidates[::6]
    listed = replace(asked, shortlist=names)
    found = droppable(asked.wanted, names)
    assert len(found.alone) > 6
    (told,) = droppable_told(listed)
    said = []
    for part in (found.alone, found.together):  # those who stay, where they are less than half as many
        stay = [name for name in names if name not in set(part)]
        fewer = len(part) > 2 * len(stay)
        few = f"{len(part)}, all but {', '.join(stay)}" if stay else f"each of the {len(part)}"
        said.append(few if fewer else ", ".join(part))
    assert told == (
        f"{DROPPABLE}, of the {len(names)} on my slate (Jun 10 to Aug 31, fruit in 8 ordinary years in 10), any one of them: "
        f"{said[0]}. At once: {said[1]}. {SPARE}"
    )
    assert ("may get barer" in told) == any(row.gaps for row in listed.strip.rows)
    assert replace(listed, flesh_colour=("white",)).droppable is listed.droppable, "no filter moves it"
    filed = tables.table(listed, "shortlist").set_index("Cultivar")[DROPPABLE]
    assert set(filed.index[filed != "no"]) == set(found.alone)
    assert set(filed.index[filed.str.contains("with the others")]) == set(found.together)
    assert DROPPABLE in dict(tables.meanings(listed))
    assert DROPPABLE not in tables.table(listed, "ranking")


def test_of_a_plan_nobody_could_be_dropped_and_of_nothing_nothing_is_said(asked):
    names = plan(asked.wanted).names
    listed = replace(asked, shortlist=names)
    assert droppable_told(listed) == [
        f"{DROPPABLE}, of the {len(names)} on my slate (Jun 10 to Aug 31, fruit in 8 ordinary years in 10): none. "
        "Without any one of them a covered day is covered no longer."
    ]
    assert droppable_filed(listed, names) == ["no"] * len(names)
    assert droppable_told(asked) == []
    assert DROPPABLE not in dict(tables.meanings(asked))


def test_without_a_ripening_model_nothing_is_claimed(catalogue):
    refused = replace(catalogue, ripening=replace(catalogue.ripening, refused="Too few picks."))
    asked = Question(refused, shortlist=("Candover",), other=("Briskwell",))
    assert droppable_told(asked) == []
    assert tables.table(asked, "shortlist")[DROPPABLE].tolist() == [""]
    assert compared_told(asked, asked.compared) == [
        "0 on both, 1 only on my slate, 1 only on the other list.", "Too few picks.",
    ]  # fmt: skip


def test_two_buyers_are_told_one_by_one(asked, demo):
    two = replace(
        asked,
        second="pick_your_own",
        shortlist=tuple(demo.cultivars.index[:9]),
        other=tuple(demo.cultivars.index[4:40]),
    )
    told = compared_told(two, two.compared)
    for market in ("roadside_stand", "pick_your_own"):
        assert sum(line.startswith(demo.markets[market].name) for line in told) == 6
    assert "of 83 selling days" in told[1]


def test_of_a_list_without_a_gap_it_is_not_said_what_would_close_one(asked):
    whole = replace(asked, shortlist=plan(asked.wanted).names, other=plan(asked.wanted).names[::2])
    told = compared_told(whole, whole.compared)
    assert not any("my gaps" in line for line in told)
    assert any("with my slate added, these days of its gaps close: " in line for line in told)
