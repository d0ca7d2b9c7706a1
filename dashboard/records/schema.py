"""The tables and columns of the records: what each means, how it may be written, what is refused and what is flagged.

This is the one place. Reading, the data package, the empty workbook and the documentation follow it.
Ranges are in SI units and include their ends. The ranges are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from dashboard.terms.traits import CLASSES
from dashboard.terms.units import QUANTITIES, UNITS, Unit

# How a cell is read; "whole" and "year" are numbers without a fraction.
KINDS = ("text", "note", "number", "whole", "year", "date", "class", "yes/no")

Range = tuple[float, float]

# How exactly a date is known. Of a week the middle stands for it, of a year the first of January.
PRECISIONS = ("day", "week", "year")


@dataclass(frozen=True)
class Column:
    name: str  # with its SI unit, as it stands in the checked table
    kind: str
    meaning: str
    quantity: str = ""  # of units.QUANTITIES, where a unit may be chosen or is fixed by the name
    refuse: Range | None = None  # outside: the cell is set aside
    flag: Range | None = None  # outside: loaded, but told
    words: tuple[str, ...] = ()  # the words of a class
    needed: bool = False  # without it the row is set aside
    refers: str = ""  # the table whose key this names
    rating: bool = False  # on a scale declared with the records, kept as 0-10, 10 most desirable
    in_seasons: bool = False  # a day outside the seasons declared is refused
    precision: str = ""  # the column that says how exactly the date is known; a week or a year will do
    seldom: bool = False  # not written where no row has it

    @property
    def spellings(self) -> dict[str, Unit | None]:
        """Every accepted heading and the unit it declares: suture_mm, suture_cm, suture_in."""
        if self.quantity not in QUANTITIES:
            return {self.name: None}
        parts = self.name.split("_")
        first = QUANTITIES[self.quantity][0]
        if first not in parts:
            return {self.name: UNITS[first]}
        place = parts.index(first)
        return {
            "_".join([*parts[:place], suffix, *parts[place + 1 :]]): UNITS[suffix]
            for suffix in QUANTITIES[self.quantity]
        }


@dataclass(frozen=True)
class Table:
    name: str
    row: str  # what one row is
    key: tuple[str, ...]
    columns: tuple[Column, ...]
    required: bool = False  # without it there is nothing to show

    @property
    def by_name(self) -> dict[str, Column]:
        return {column.name: column for column in self.columns}

    @property
    def by_spelling(self) -> dict[str, Column]:
        """By each heading that a column may have."""
        return {spelling: column for column in self.columns for spelling in column.spellings}


def _text(name: str, meaning: str, **more) -> Column:
    return Column(name, "text", meaning, **more)


def _whole(name: str, meaning: str, refuse: Range, **more) -> Column:
    return Column(name, "whole", meaning, refuse=refuse, **more)


def _year(name: str, meaning: str, **more) -> Column:
    return Column(name, "year", meaning, refuse=(1900, 2100), **more)


def _rating(name: str, meaning: str) -> Column:
    return Column(name, "number", meaning, "rating", refuse=(0, 10), rating=True)


def _share(name: str, meaning: str) -> Column:
    return Column(name, "number", meaning, "share", refuse=(0, 100))


def _size(name: str, meaning: str) -> Column:
    return Column(name, "number", meaning, "length", refuse=(15, 150), flag=(35, 110))


def _firmness(name: str, meaning: str) -> Column:
    return Column(name, "number", meaning, "force", refuse=(0, 150), flag=(0, 90))


def _spread(name: str, meaning: str, quantity: str, refuse: Range) -> Column:
    return Column(name, "number", meaning, quantity, refuse=refuse)


def _temperature(name: str, meaning: str) -> Column:
    return Column(name, "number", meaning, "temperature", refuse=(-60, 60), flag=(-40, 50))


def _class(name: str, meaning: str) -> Column:
    return Column(name, "class", meaning, words=CLASSES[name][1])


CULTIVAR = _text(
    "cultivar", "name of the cultivar or number of the selection", needed=True, refers="cultivars"
)
SITE = _text("site", "short name of the site", needed=True, refers="sites")
NOTE = Column("note", "note", "anything worth keeping, as plain text")

_TABLES = (
    Table("cultivars", "a named cultivar or numbered selection", ("cultivar",), (
        _text("cultivar", "name, or number of the selection", needed=True),
        _class("fruit_type", "with fuzz or without"),
        _class("flesh_colour", "color of the flesh"),
        _class("acidity_class", "normal acidity, or low"),
        _class("shape_type", "round or flat"),
        Column("flesh_texture", "class", "how the flesh softens", words=("melting", "non-melting", "stony hard")),
        _class("stone", "how the flesh holds to the pit"),
        Column("chill_requirement_h", "number", "winter chill it needs, hours at or below 7.2 °C", refuse=(0, 3000), flag=(50, 1500)),
        Column("chill_requirement_cp", "number", "winter chill it needs, chill portions", refuse=(0, 150), flag=(2, 100)),
        Column("bacterial_spot", "number", "bacterial spot seen, 0 none to 5 severe", refuse=(0, 5)),
        Column("status", "class", "released under a name, or still under test", words=("released", "numbered selection")),
        Column("protected", "yes/no", "may not be propagated without a license"),
        Column("check", "yes/no", "a check that others are compared with"),
        _text("seed_parent", "the parent that bore the seed, where it is known; it need not be in this table", seldom=True),
        _text("pollen_parent", "the parent the pollen came from; empty where it is not known, or pollination was open", seldom=True),
        NOTE,
    ), required=True),
    Table("sites", "a place where trees stand", ("site",), (
        _text("site", "short name of the site", needed=True),
        _text("name", "full name"),
        Column("latitude_deg", "number", "degrees north; south is negative", refuse=(-90, 90), flag=(-60, 65)),
        Column("longitude_deg", "number", "degrees east; west is negative", refuse=(-180, 180)),
        Column("elevation_m", "number", "meters above sea level", refuse=(-450, 6000), flag=(-100, 3000)),
        Column("host", "class", "whose land it is", words=("station", "grower")),
    ), required=True),
    Table("samples", "fruit of one cultivar picked at one site on one day", ("sample",), (
        _text("sample", "name of the sample, used once", needed=True),
        CULTIVAR,
        SITE,
        Column("date", "date", "day it was picked", needed=True, in_seasons=True, precision="date_precision"),
        Column("date_precision", "class", "how exactly the date is known; as the date is written, or declared, where empty", words=PRECISIONS),
        _whole("pick", "which pick of the season, 1 the first", (1, 9), flag=(1, 4)),
        _rating("shape", "even, without tip or bulge; 10 most desirable"),
        _rating("fuzz", "10 least fuzzy, most desirable"),
        _rating("red", "how much of the skin is red, 10 the most"),
        _rating("attractiveness", "the whole fruit as a buyer sees it; 10 most desirable"),
        _share("split_pit_pct", "share of fruit with a split pit"),
        _share("cracked_tip_pct", "share of fruit cracked at the tip"),
        Column("juice_temp_c", "number", "how warm juice and prism were when sugar was read; not the air", "temperature", refuse=(0, 45), seldom=True),
        _text("photo", "file name of the photograph, in the folder photos beside the records; .jpg or .png, up to 20 MB; a semicolon parts several"),
        NOTE,
    ), required=True),
    Table("fruit", "one fruit of a sample", ("sample", "fruit"), (
        _text("sample", "the sample it belongs to", needed=True, refers="samples"),
        _whole("fruit", "number of the fruit in its sample", (1, 9999), needed=True),
        _size("suture_mm", "diameter at the suture"),
        _size("cross_mm", "diameter across the suture"),
        _firmness("firmness_1_n", "firmness of one cheek, skin removed"),
        _firmness("firmness_2_n", "firmness of the other cheek, skin removed"),
        Column("ssc_brix", "number", "soluble solids", "sugar", refuse=(0, 35), flag=(6, 22)),
    ), required=True),
    Table("means", "what was measured on the fruit of a sample of which only means were kept", ("sample",), (
        _text("sample", "the sample they belong to", needed=True, refers="samples"),
        _whole("n", "how many fruit were measured", (1, 9999), needed=True),
        _size("size_mm", "mean over fruit of the mean of both diameters"),
        _spread("size_sd_mm", "standard deviation among the fruit, n - 1 below the line", "length", (0, 60)),
        _firmness("firmness_n", "mean over fruit of the mean of both cheeks, skin removed"),
        _spread("firmness_sd_n", "standard deviation among the fruit, n - 1 below the line", "force", (0, 80)),
        Column("ssc_brix", "number", "mean of the soluble solids", "sugar", refuse=(0, 35), flag=(6, 22)),
        _spread("ssc_sd_brix", "standard deviation among the fruit, n - 1 below the line", "sugar", (0, 15)),
    )),
    Table("beyond", "a reading of a fruit past an end of its instrument: all that is known is that it is below or above", ("sample", "fruit", "reading"), (
        _text("sample", "the sample it belongs to", needed=True, refers="samples"),
        _whole("fruit", "number of the fruit in its sample", (1, 9999), needed=True),
        Column("reading", "class", "what was read", words=("firmness 1", "firmness 2", "ssc"), needed=True),
        Column("side", "class", "on which side of the end it lies", words=("below", "above")),
        _firmness("firmness_n", "the end, where firmness was read"),
        Column("ssc_brix", "number", "the end, where sugar was read", "sugar", refuse=(0, 35)),
    )),
    Table("trees", "one tree", ("site", "row", "position"), (
        SITE,
        _text("row", "row of the block", needed=True),
        _text("position", "place in the row", needed=True),
        _text("cultivar", CULTIVAR.meaning, refers="cultivars"),
        _text("rootstock", "rootstock"),
        _year("planted", "year planted"),
        _year("removed", "year removed, empty while standing"),
    )),
    Table("bloom", "full bloom of a cultivar at a site in a year", ("cultivar", "site", "year"), (
        CULTIVAR,
        SITE,
        _year("year", "year of the bloom", needed=True),
        Column("full_bloom", "date", "day of full bloom, at the share open that is declared", in_seasons=True),
    )),
    Table("yields", "what a tree gave at one pick", ("cultivar", "site", "year", "pick"), (
        CULTIVAR,
        SITE,
        _year("year", "year of the pick", needed=True),
        _whole("pick", "which pick of the season, 1 the first", (1, 9), needed=True),
        Column("kg_per_tree", "number", "mass of fruit picked from one tree", "mass", refuse=(0, 500), flag=(0, 150)),
        _whole("trees", "how many trees it is the mean of", (1, 100000)),
    )),
    Table("weather", "a day (or hour) at a site", ("site", "date", "hour"), (
        SITE,
        Column("date", "date", "day", needed=True),
        _whole("hour", "hour of the day, where hourly", (0, 24)),
        _temperature("tmin_c", "lowest temperature of the day"),
        _temperature("tmax_c", "highest temperature of the day"),
        _temperature("temp_c", "temperature of the hour"),
    )),
    Table("nursery", "an offer of trees", ("cultivar", "nursery", "rootstock", "season"), (
        CULTIVAR,
        _text("nursery", "who offers it", needed=True),
        _text("rootstock", "rootstock", needed=True),
        _text("season", "planting season of the offer", needed=True),
        Column("price_per_tree", "number", "price of one tree, in the currency declared", refuse=(0, 1000), flag=(1, 200)),
        _whole("bundle", "trees in a bundle", (1, 10000)),
        _whole("trees_available", "trees that can be had", (0, 10_000_000)),
    )),
)  # fmt: skip

TABLES: Mapping[str, Table] = {table.name: table for table in _TABLES}
REQUIRED = tuple(table.name for table in _TABLES if table.required)
PARENTS = ("seed_parent", "pollen_parent")  # of a cultivar
RATINGS = tuple(column.name for column in TABLES["samples"].columns if column.rating)
FIRMNESS = tuple(
    column.name
    for name in ("fruit", "means")
    for column in TABLES[name].columns
    if column.quantity == "force"
)
