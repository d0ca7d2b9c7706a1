"""What is said of a faulty profile, word for word: the suggestion is half of it."""

from __future__ import annotations

import pytest

from dashboard.market import read_market
from tests.market.test_reading import LIMIT, WISH, fault, written


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            LIMIT + "share = 0.8",
            "limit 1: a limit is about one class or one trait; write class = … or trait = ….",
        ),
        (
            LIMIT + 'class = "stone"\nany_of = "free"',
            'limit 1, any_of = free: must be a list of words; write any_of = ["cling"].',
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nshare = 0',
            "limit 1, share = 0.0: must be above 0 and at most 1; 0.8 asks for 80 % of the fruit.",
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nshare = 100',
            "limit 1, share = 100.0: must be above 0 and at most 1; write 1.",
        ),
        (
            LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nshare = 101',
            "limit 1, share = 101.0: must be above 0 and at most 1; 0.8 asks for 80 % of the fruit.",
        ),
        (
            LIMIT + 'trait = "red"\nat_least = 5\nshare = 0.8',
            "limit 1, share = 0.8: red is judged once a sample, not on each fruit; leave share out.",
        ),
        (
            LIMIT + 'trait = "sugar"\nat_least = "10"',
            "limit 1, at_least = 10: must be a number; write at_least = a number, without quotation marks.",
        ),
        (
            LIMIT + 'trait = "sugar"\nat_least = 1\nsource = 3',
            "limit 1, source = 3: must be text in quotation marks.",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "target"\nfrom = 9\nto = 12\nideal = 9',
            "wish 1, ideal = 9.0: must lie between from = 9 and to = 12.",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nideal = 10',
            'wish 1, ideal = 10: has no meaning for larger; write shape = "target".',
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nweight = 0',
            "wish 1, weight = 0.0: must be above 0; leave the wish out to ignore it.",
        ),
        (
            WISH + 'trait = "sugar"\nshape = "larger"\nfrom = 9\nto = 12\nexponent = 0',
            "wish 1, exponent = 0.0: must be above 0; 1 is a straight line.",
        ),
    ],
)
def test_the_whole_sentence_stands(tmp_path, text, sentence):
    assert str(fault(tmp_path, text)) == f"stand.toml, {sentence}"


@pytest.mark.parametrize(("length", "shown"), [(60, "x" * 60), (61, "x" * 59 + "…")])
def test_a_value_is_shown_whole_up_to_sixty_letters(tmp_path, length, shown):
    text = LIMIT + f'trait = "{"x" * length}"\nat_least = 1'
    assert str(fault(tmp_path, text)).startswith(f"stand.toml, limit 1, trait = {shown}: not one of size, ")


def test_all_of_the_fruit_may_be_asked_for(tmp_path):
    text = LIMIT + 'trait = "size"\nat_least = 2\nunit = "in"\nshare = 1'
    assert read_market(written(tmp_path, text)).limits[0].share == 1
