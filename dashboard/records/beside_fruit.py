"""Tables that tell of fruit beside the table of fruit: what of them can stand there."""

from __future__ import annotations

from collections.abc import Callable, Mapping

import pandas as pd

from dashboard.records.beyond import NAME as BEYOND
from dashboard.records.beyond import usable_beyond
from dashboard.records.findings import Findings
from dashboard.records.means import usable_means

# By table what sets aside the rows and cells that cannot, given the rows, the fruit of their samples, and where it is told.
BESIDE_FRUIT: Mapping[str, Callable[[pd.DataFrame, pd.DataFrame, Findings], pd.DataFrame]] = {
    "means": usable_means,
    BEYOND: usable_beyond,
}
