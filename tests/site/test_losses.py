"""Chill and frost as joint draws."""

from __future__ import annotations

import numpy as np
import pytest

from dashboard.site.bloom import Bloom, bloom_model, bloom_records
from dashboard.site.losses import losses
from dashboard.site.winters import PORTIONS, Winters
from tests.site.trees import truth


@pytest.fixture(scope="module")
def parts():
    made = truth(30, 5)
    seen = bloom_records(made.records(list(range(2014, 2024)), np.random.default_rng(1)), made.springs)
    springs = made.springs["hill"]
    return made.cultivars, Winters(springs.station), springs, bloom_model(seen, made.cultivars, made.springs)


def drawn(parts, **needs):
    cultivars, winters, springs, bloom = parts
    return losses(cultivars.assign(**needs), winters, springs, bloom, "hill", 400, np.random.default_rng(7))


def test_every_draw_is_a_year_on_record_and_every_share_one(parts):
    found = drawn(parts)
    assert set(found.year) <= set(parts[2].years)
    for share in (found.after_chill, found.after_frost, found.left):
        assert share.shape == (400, 30)
        assert ((share >= 0) & (share <= 1)).all()


def test_a_short_winter_hits_all_of_the_same_need_in_the_same_draw(parts):
    middle = float(parts[1].supply[PORTIONS].median())
    found = drawn(parts, chill_requirement_cp=middle + 0.0).after_chill
    short = found < 1
    assert 0.2 < short.mean() < 0.8
    assert np.corrcoef(short[:, 0], short[:, 1])[0, 1] > 0.6


def test_who_needs_no_more_than_any_winter_brings_loses_nothing_to_chill(parts):
    assert (drawn(parts, chill_requirement_cp=1.0).after_chill == 1).all()
    assert (drawn(parts, chill_requirement_cp=np.nan).after_chill == 1).all()


def test_a_need_far_beyond_every_winter_leaves_no_crop(parts):
    assert (drawn(parts, chill_requirement_cp=2000.0).left == 0).all()


def test_frost_falls_together(parts):
    left = drawn(parts).after_frost
    if (left < 1).any():
        hit = (left < 1).mean(axis=1)
        assert hit.var() > 2 * (hit.mean() * (1 - hit.mean())) / left.shape[1]


def test_without_a_model_there_is_a_sentence(parts):
    with pytest.raises(ValueError, match="Too few"):
        losses(
            parts[0],
            parts[1],
            parts[2],
            Bloom(parts[0].index, refused="Too few."),
            "hill",
            5,
            np.random.default_rng(1),
        )
