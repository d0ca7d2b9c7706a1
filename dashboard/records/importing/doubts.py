"""All that may be right in sheets and seldom is, looked for before their facts are joined to the trial."""

from __future__ import annotations

from collections.abc import Sequence

from dashboard.records.importing.facts import Facts
from dashboard.records.importing.layouts import Layout
from dashboard.records.importing.ledger import Ledger
from dashboard.records.importing.mapping import Answers
from dashboard.records.importing.order_doubt import suspect_orders
from dashboard.records.importing.pages import Page
from dashboard.records.importing.scale_doubt import suspect_scales
from dashboard.records.importing.trial import Trial
from dashboard.records.importing.unit_doubt import suspect_units
from dashboard.records.importing.unit_parts import suspect_parts
from dashboard.records.importing.year_doubt import suspect_years


def suspect(
    shapes: Sequence[Layout], pages: Sequence[Page], answers: Answers, parts: Sequence[Facts], trial: Trial, ledger: Ledger
) -> None:  # fmt: skip
    suspect_units(parts, trial, ledger)
    suspect_parts(shapes, pages, answers, parts, trial, ledger)
    suspect_scales(shapes, pages, answers, parts, ledger)
    suspect_orders(shapes, pages, answers, ledger)
    suspect_years(shapes, parts, ledger)
