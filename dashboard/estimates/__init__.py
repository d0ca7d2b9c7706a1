"""What a cultivar is worth in each trait, and how sure we are, once site, season and luck are taken out.

    worths(summaries, checks) -> {trait: Worth}

``readings`` (what was measured), ``unsampled`` (fruit that were not), ``plan`` (what can be told from it), ``unequal`` (who varies more), ``relatives`` and ``leaning`` (what families say), ``kinds`` (flat ones beside flat ones), ``scale`` and ``odds`` (shares of fruit), ``model`` (the fit), ``worth`` (the answer), then
``together`` (how errors of several traits go together) and ``joint`` (what one trait says of the others);
``averages`` stands in, with the reason, where the records carry no model. ``worked_out``: errors of a trait of somebody's own.
"""

from __future__ import annotations

from collections.abc import Collection

import pandas as pd

from dashboard.estimates.averages import COLUMNS, COUNTS, LEVEL, METHOD, pooled
from dashboard.estimates.joint import joined
from dashboard.estimates.kinds import shapes_of
from dashboard.estimates.model import worth
from dashboard.estimates.plan import Plan
from dashboard.estimates.relatives import Relatives, relatives_of
from dashboard.estimates.scale import on_odds
from dashboard.estimates.together import together
from dashboard.estimates.worth import MODEL_METHOD, Worth
from dashboard.mixed import Patterns
from dashboard.terms.traits import TRAITS, trait_called

__all__ = [
    "COLUMNS", "COUNTS", "EQUAL_FIRMNESS", "LEVEL", "METHOD", "MODEL_METHOD", "Plan", "Relatives", "Worth",
    "cultivar_values", "joined", "pooled", "relatives_of", "shapes_of", "together", "trait_values", "worth", "worths",
]  # fmt: skip


# Traits that are also told at the same firmness at picking, and under which key.
EQUAL_FIRMNESS = {"size": "size at equal firmness", "sugar": "sugar at equal firmness"}


def worths(
    summaries: pd.DataFrame,
    checks: Collection[str] = (),
    relatives: Relatives | None = None,
    shapes: pd.Series | None = None,
) -> dict[str, Worth]:
    """What every cultivar is worth in every trait.

    Parameters
    ----------
    summaries : DataFrame
        One row a sample, SI units (``records.summary``).
    checks : collection of str
        Names of the check cultivars.
    relatives : Relatives, optional
        Who is bred from whom, as ``relatives_of`` reads it from the table of cultivars.
    shapes : Series, optional
        Round or flat by cultivar, as ``shapes_of`` reads it: each is judged beside cultivars of the same shape.

    Returns
    -------
    dict of str to Worth
        By trait key, and of those told at equal firmness by their EQUAL_FIRMNESS key.
    """
    picked, equal = _each(summaries, frozenset(checks), relatives, shapes)
    at_equal = joined(picked | equal, together(summaries, equal_firmness=True), EQUAL_FIRMNESS)
    told = joined(picked, together(summaries))
    return told | {key: at_equal[trait] for trait, key in EQUAL_FIRMNESS.items()}


def _each(
    summaries: pd.DataFrame, checks: frozenset[str], relatives: Relatives | None, shapes: pd.Series | None
) -> tuple[dict[str, Worth], dict[str, Worth]]:
    """Each trait for itself, as picked and at equal firmness. What the fits share takes memory, and is let go at the end."""
    patterns = Patterns()

    def fitted(trait: str, equal_firmness: bool = False) -> Worth:
        return worth(
            summaries, trait, checks, equal_firmness, patterns=patterns, relatives=relatives, kinds=shapes
        )

    # What takes most memory first, while few values are kept: shares, which have no pattern in common, then equal firmness.
    shares = {trait: fitted(trait) for trait in TRAITS if on_odds(trait)}
    equal = {trait: fitted(trait, equal_firmness=True) for trait in EQUAL_FIRMNESS}
    return {trait: shares[trait] if trait in shares else fitted(trait) for trait in TRAITS}, equal


def trait_values(
    summaries: pd.DataFrame, trait: str, checks: Collection[str] = (), site: str | None = None
) -> pd.DataFrame:
    """What cultivars are worth in one trait, as a table.

    Parameters
    ----------
    summaries : DataFrame
        One row a sample, SI units.
    trait : str
        A key of ``TRAITS``.
    checks : collection of str
        Names of the check cultivars.
    site : str, optional
        At one site; over all of them without.

    Returns
    -------
    DataFrame
        One row a cultivar, sorted by name, with the COLUMNS, SI units.

    Raises
    ------
    ValueError
        The trait was not measured at the site.
    """
    found = worth(summaries, trait, frozenset(checks))
    if site is None:
        return found.values
    if site not in found.at:
        raise ValueError(
            f"{trait_called(trait).label} was not measured at {site}; it was at {', '.join(found.at) or 'no site'}."
        )
    return found.at[site]


def cultivar_values(summaries: pd.DataFrame, checks: Collection[str] = ()) -> dict[str, pd.DataFrame]:
    """The values over sites of every trait, by trait key."""
    return {trait: found.values for trait, found in worths(summaries, checks).items() if trait in TRAITS}
