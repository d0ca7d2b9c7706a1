"""Which samples a day has labels for: what may be ripe, or the cultivars named; each is called as the bench sheet of that day calls it."""

from __future__ import annotations

from dashboard.handout.asking import cultivar_named, parted
from dashboard.handout.bench.day import Day
from dashboard.handout.labels.printed import Label
from dashboard.records.importing.bench import sample_name
from dashboard.ripening import date_label


def labels(day: Day, names: str = "") -> list[Label]:
    """In walking order, or as ``names`` (parted by commas) has them. ValueError, one sentence, for a name that is none, or for no sample."""
    if names:
        known = day.catalogue.cultivars.index.astype(str).tolist()
        wanted = [cultivar_named(name, known) for name in parted(names)]
    else:
        wanted = day.rows["cultivar"].astype(str).tolist()
    if not wanted:
        why = day.why or f"No cultivar is likely to be ripe at {day.site} in that week."
        raise ValueError(f"{why} Name the cultivars: --names A,B.")
    return [_label(day, name) for name in dict.fromkeys(wanted)]


def _label(day: Day, cultivar: str) -> Label:
    pick = day.picks.get(cultivar, 0) + 1
    sample = sample_name(day.site, f"{day.on:%Y-%m-%d}", cultivar, str(pick))
    return Label(sample, cultivar, (day.site_name, date_label(day.on), f"pick {pick}"))
