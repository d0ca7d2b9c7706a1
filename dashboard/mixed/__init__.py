"""Linear mixed models by REML: adjusted values out of unbalanced records, with honest errors.

    fit(y, X, groups) -> Fit

One file a step, in this order: ``kin`` (effects of relatives), ``design`` (what was asked, checked), ``columns`` (where each effect
stands), ``arrowhead`` (the pattern of the equations),
``factor`` (their factorisation), ``criterion`` (REML and its slope), ``setting_out`` (where the search begins), ``reml`` (the best variances), ``split`` (sums by block),
``moves`` (what follows when variances move), ``predictions`` (effects and their errors). Shapes: R records, p fixed effects, L local and G border columns.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from dashboard.mixed.arrowhead import Patterns
from dashboard.mixed.criterion import Model
from dashboard.mixed.design import Groups, checked
from dashboard.mixed.moves import Moves
from dashboard.mixed.predictions import Fit, Prediction
from dashboard.mixed.reml import optimum
from dashboard.mixed.setting_out import near_by
from dashboard.mixed.threads import one_thread

__all__ = ["Fit", "Moves", "Patterns", "Prediction", "UnfittedError", "fit", "why_not"]


class UnfittedError(ValueError):
    """Why there is no fit, in one plain sentence for whoever reads the answer."""


def why_not(fault: Exception) -> str:
    """A fault of a fit as a reader may see it: never in the words of a library, nor in those of linear algebra."""
    return str(fault) if isinstance(fault, UnfittedError) else "these records do not tell its parts apart."


@one_thread
def fit(
    y: Any,
    X: Any,
    groups: Groups,
    *,
    n: Any = None,
    within_ss: float = 0.0,
    reml: bool = True,
    fixed: Iterable[str] = (),
    held: Mapping[str, float] | None = None,
    off_zero: Iterable[str] = (),
    patterns: Patterns | None = None,
    near: Mapping[str, float] | None = None,
) -> Fit:
    """The mixed model y = X b + sum_t Z_t u_t + e, its variances estimated by REML (or ML with ``reml=False``).

    ``y`` (R,) and ``X`` (R, p) are the records and the columns of their fixed effects, the intercept included; column
    names are kept from a DataFrame. ``groups`` names each random effect and gives its label in every record (R,), or
    a tuple (labels, covariate) for a random slope; slopes are independent of everything else. Effects of relatives are
    a ``Kin``, by ``kin(parents).seen(labels)``.

    When records are means of ``n`` (R,) fruit each, give the pooled sum of squares of the fruit about their means as
    ``within_ss``: the fit, criterion included, is then exactly that of the single fruit with a random effect "sample" a
    record, whose variance is reported as ``variance["sample"]`` beside the fruit's "residual".

    Groups named in ``fixed`` are estimated without shrinkage (BLUE); X must then have no intercept of its own.
    ``held`` keeps ratios of named variances to the residual one where they are put. Variances named in ``off_zero`` are
    weighed with a prior that is zero at zero (``criterion``), as few levels may agree by chance.

    ``patterns`` lends the pattern of the equations to later fits of the same groups and columns. ``near`` names variances, as ratios to
    the residual one, from which the search sets out: it ends where it would have, sooner.

    A variance of zero is an answer and is listed in ``at_zero``. ValueError, one sentence, when the records cannot
    carry the model.
    """
    off_zero = tuple(off_zero)
    records = checked(y, X, groups, n=n, within_ss=within_ss, fixed=fixed)
    if reml and not fixed and not held and not near:
        near = near_by(fit, y, X, groups, n, within_ss, off_zero)
    model = Model(records, reml, off_zero, patterns)
    best = optimum(model, held, near)
    model.let_go()
    return Fit(model, best)
