"""What a notebook calls says what it takes, in which shape and unit, what it gives back and what it raises."""

from __future__ import annotations

import ast
import inspect
import re
import textwrap

import pytest

from dashboard import Asked, Records, Table, estimates, load, market, show
from dashboard.answers import catalogue, ranking
from dashboard.estimates import chances, comparisons, draws, joint, many, shares, variation
from dashboard.ripening import cover, model

FACES = (
    load, show, Records.ask, Records.find, Records.fruit, Records.estimates, Records.derive,
    Asked.ranking, Asked.why, Asked.compare, Asked.stand_ins, Asked.season, Asked.gaps, Asked.site, Asked.plan, Asked.order, Asked.but, Table.picture,
    catalogue.load, catalogue.catalogue, catalogue.windows_at,
    ranking.ranked, ranking.not_beaten, ranking.sure_not_beaten, ranking.bounds,
    market.read_market, market.read_markets, market.fit,
    estimates.worths, estimates.worth, estimates.trait_values, estimates.pooled,
    chances.chances, comparisons.difference, comparisons.from_checks, variation.sources, many.mistaken, many.holm,
    estimates.together, joint.between, joint.predicted, joint.joined,
    draws.error_correlation, draws.errors, draws.long_run_draws, shares.means_for_share,
    model.ripening, model.Ripening.windows, model.Ripening.from_check,
    cover.Cover, cover.draws, cover.picking, cover.longest_runs,
)  # fmt: skip


def sections(documented) -> dict[str, str]:
    """The parts of a docstring in NumPy style, by heading."""
    parts = re.split(r"^(\w[\w ]*)\n-{3,}$", inspect.getdoc(documented) or "", flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def named(section: str) -> set[str]:
    """The names before each colon at the start of a line; several share a line behind commas."""
    lines = re.findall(r"^([\w*, ]+) : \S", section, re.MULTILINE)
    return {name.strip().lstrip("*") for line in lines for name in line.split(",")}


def raised(documented) -> set[str]:
    """The faults that its own source raises, and does not catch itself."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(inspect.unwrap(documented))))
    caught = {
        inner
        for node in ast.walk(tree)
        if isinstance(node, ast.Try)
        for part in node.body
        for inner in ast.walk(part)
    }
    calls = [node.exc for node in ast.walk(tree) if isinstance(node, ast.Raise) and node not in caught]
    return {call.func.id for call in calls if isinstance(call, ast.Call) and isinstance(call.func, ast.Name)}


@pytest.mark.parametrize("documented", FACES, ids=lambda one: f"{one.__module__}.{one.__qualname__}")
def test_it_says_what_it_takes_gives_and_raises(documented):
    told = sections(documented)
    taken = set(inspect.signature(documented).parameters) - {"self"}
    assert named(told["Parameters"]) == taken
    assert inspect.isclass(documented) or told["Returns"].strip()
    assert raised(documented) <= set(re.findall(r"^(\w+)$", told.get("Raises", ""), re.MULTILINE))


def test_what_is_missing_is_found():
    def bad(trees: int, rows: int) -> int:
        """Of a block.

        Parameters
        ----------
        trees : int
            In it.
        """
        raise ValueError("no rows")

    assert set(sections(bad)) == {"Parameters"}
    assert named(sections(bad)["Parameters"]) == {"trees"}
    assert raised(bad) == {"ValueError"}
