"""What somebody brings to a catalogue from a notebook: facts from a table of their own, a trait worked out from measured ones.

The records stay as they are; what comes out is another catalogue that shares them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from dashboard.answers.catalogue import Catalogue, for_all
from dashboard.answers.facts import Fact
from dashboard.estimates import Worth


def brought(catalogue: Catalogue) -> bool:
    """Whether it holds what no folder of records does."""
    return bool(catalogue.own_traits or catalogue.own_facts)


def with_facts(catalogue: Catalogue, facts: Iterable[Fact], problems: Iterable[str] = ()) -> Catalogue:
    """The catalogue with these facts beside those it has; ``problems``: what was found in their table, a sentence each."""
    own = {**catalogue.own_facts, **{fact.name: fact for fact in facts}}
    return replace(catalogue, own_facts=own, market_problems=(*catalogue.market_problems, *problems))


def with_worth(catalogue: Catalogue, worth: Worth, values: np.ndarray) -> Catalogue:
    """The catalogue with a trait of somebody's own: what each cultivar is worth in it, from its ``values`` of the samples.

    At equal firmness it is as picked: which way it would go with firmness, its formula does not say.
    """
    key, index = worth.trait, catalogue.cultivars.index
    figures = {
        basis: {**frames, key: for_all(worth.at.get(basis.site, worth.values.iloc[:0]) if basis.site else worth.values, index)}
        for basis, frames in catalogue.figures.items()
    }  # fmt: skip
    return replace(
        catalogue,
        summaries=catalogue.summaries.assign(**{key: values}),
        worth={**catalogue.worth, key: worth},
        equal={**catalogue.equal, key: worth},
        figures=figures,
        values={**catalogue.values, key: for_all(worth.values, index)},
        own_traits=tuple(dict.fromkeys((*catalogue.own_traits, key))),
    )
