"""Whether a cultivar thrives at a place: winter chill, bloom and spring frost, out of daily temperatures.

Read ``hourly`` (hours out of days), ``chill``, ``portions`` and ``heat`` (what an hour counts), ``station`` (the days of a place, looked
through), ``steps`` (whether its record jumps), ``winters`` (what each brings), ``needs`` (against what a cultivar asks for), ``elsewhere`` (a
place beside a station), ``clock`` and ``bloom`` (when it blooms), ``frost`` (what a frost takes), ``losses`` (joint draws of what both cost), ``noted`` (hail, where somebody noted it), in this
order.

All of it is an estimate: a thermometer is not an orchard, and no model of chill or frost has been found to hold everywhere.
"""
