"""What is measured on a cultivar: one line a trait.

``column`` is where the trait stands in a table of sample summaries (SI units); everything that
shows or weighs a trait takes its words, unit and decimals from here.
"""

from __future__ import annotations

from dataclasses import dataclass

from dashboard.terms.units import Unit, figure, shown_in


@dataclass(frozen=True)
class Trait:
    key: str
    label: str
    quantity: str
    better: str  # "more", "less" or "depends"
    on_fruit: bool  # measured on each fruit (True) or judged once a sample (False)
    decimals_us: int
    decimals_si: int
    meaning: str

    def unit(self, system: str) -> Unit:
        return shown_in(self.quantity, system)

    def decimals(self, system: str) -> int:
        return self.decimals_us if system == "us" else self.decimals_si

    def written(self, si: float, system: str) -> str:
        """The number alone, in the reader's unit and decimals; an en dash where nothing is known."""
        if si is None or si != si:
            return "–"
        return figure(self.unit(system).from_si(si), self.decimals(system))

    def difference(self, si: float, system: str) -> str:
        """A difference of two values with its sign, in the reader's unit: it has no zero point of its own."""
        unit = self.unit(system)
        return figure(unit.from_si(si) - unit.from_si(0.0), self.decimals(system), signed=True)

    def heading(self, system: str) -> str:
        """Label and unit, as a column heading or an axis title."""
        symbol = self.unit(system).symbol
        return f"{self.label} ({symbol})" if symbol else self.label


TRAITS = {
    trait.key: trait
    for trait in (
        Trait("size", "Size", "length", "more", True, 2, 1, "mean of the suture and cross diameters"),
        Trait(
            "firmness",
            "Firmness",
            "force",
            "depends",
            True,
            1,
            0,
            "mean of both cheeks at picking, 8 mm tip, skin removed",
        ),
        Trait("sugar", "Sugar", "sugar", "more", True, 1, 1, "soluble solids"),
        Trait(
            "cheek_difference",
            "Cheek difference",
            "force",
            "less",
            True,
            1,
            0,
            "how far the two cheeks of one fruit differ in firmness: uneven ripening",
        ),
        Trait(
            "roundness", "Roundness", "ratio", "depends", True, 2, 2, "suture diameter over cross diameter"
        ),
        Trait("red", "Red skin", "rating", "more", False, 1, 1, "how much of the skin is red, 10 the most"),
        Trait(
            "attractiveness",
            "Attractiveness",
            "rating",
            "more",
            False,
            1,
            1,
            "the whole fruit as a buyer sees it, 10 the most desirable",
        ),
        Trait(
            "shape",
            "Shape",
            "rating",
            "more",
            False,
            1,
            1,
            "even, without tip or bulge; 10 the most desirable",
        ),
        Trait("fuzz", "Little fuzz", "rating", "more", False, 1, 1, "10 the least fuzzy, the most desirable"),
        Trait("split_pit", "Split pits", "share", "less", False, 0, 0, "share of fruit with a split pit"),
        Trait(
            "cracked_tip", "Cracked tips", "share", "less", False, 0, 0, "share of fruit cracked at the tip"
        ),
    )
}

OWN = "own"  # the quantity of what somebody works out from measured traits


# What a market may ask of the place the trees are to stand at, and no fruit can show.
ENOUGH_CHILL = "enough_chill"
PLACED = {
    ENOUGH_CHILL: Trait(ENOUGH_CHILL, "Winters with enough chill", "winters", "more", False, 1, 1, "winters of ten that bring the chill it needs at my site"),
}  # fmt: skip


def trait_called(key: str) -> Trait:
    """A measured trait, what is asked of a place or, for any other key, one that somebody works out, called by its key."""
    words = key.replace("_", " ")
    return (
        TRAITS.get(key)
        or PLACED.get(key)
        or Trait(
            key, words[:1].upper() + words[1:], OWN, "depends", False, 3, 3, "worked out from measured traits"
        )
    )


# What is told wherever there is room for a few: fruit are pictured, listed and set against each other by these.
HEADLINE = ("size", "firmness", "sugar")
FRUIT_TRAITS = tuple(key for key, trait in TRAITS.items() if trait.on_fruit)
SAMPLE_TRAITS = tuple(key for key, trait in TRAITS.items() if not trait.on_fruit)

# The five facts that put a cultivar in a class, in the order they are asked; words as in the records.
CLASSES = {
    "fruit_type": ("Fruit type", ("peach", "nectarine")),
    "flesh_colour": ("Flesh color", ("yellow", "white", "red")),
    "acidity_class": ("Acidity class", ("normal", "low")),
    "shape_type": ("Shape type", ("round", "flat")),
    "stone": ("Pit", ("cling", "semi-free", "free")),
}
UNKNOWN = "not recorded"
