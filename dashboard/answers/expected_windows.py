"""When each cultivar is to be expected: what was seen, its averages replaced by what the model of ripening tells, with the doubt of each end."""

from __future__ import annotations

from typing import Any

import pandas as pd

from dashboard.ripening import ripening_band
from dashboard.ripening.model import METHOD as RIPENING_METHOD
from dashboard.ripening.model import Ripening


def expected_windows(
    seen: pd.DataFrame, ripe: Ripening, check: str, site: str, season_kind: str
) -> pd.DataFrame:
    """``Catalogue.windows`` at a site in a kind of season; without a model what was seen, its ends unsure by what was seen."""
    if ripe.refused:
        ends: dict[str, Any] = {
            f"{end}_{side}": seen[end] for end in ("first", "last") for side in ("low", "high")
        }
        ends |= {"not_before": seen["earliest"], "not_after": seen["latest"], "unseen": False}
        return seen.assign(**ends, band=ripening_band(seen))
    expected = ripe.windows(site, season_kind).rename(columns={"middle_low": "low", "middle_high": "high"})
    whole = seen.assign(**{str(name): expected[name] for name in expected}, method=RIPENING_METHOD)
    if check:
        whole["from_check"] = ripe.from_check(check, site)["from_check"]
    return whole.assign(band=ripening_band(whole))
