"""Coined names: words made up for this scenario, and codes for numbered selections.

The words were put together from invented syllables and kept only when they were no dictionary word, not one
letter away from each other, and free of the pieces that names of grown cultivars are commonly made of.
"""

from __future__ import annotations

import numpy as np

# Pieces common in the names of cultivars that are really grown; none may stand in a coined name.
PIECES_KEPT_OUT = (
    *("haven", "prince", "crest", "gem", "lady", "zee", "top", "king", "queen", "sun", "red", "glo", "fire"),
    *(
        "star",
        "bella",
        "belle",
        "blaze",
        "gold",
        "spring",
        "summer",
        "autumn",
        "snow",
        "flam",
        "ruby",
        "sweet",
    ),
    *("honey", "nect", "peach", "pearl", "joy", "rich", "royal", "grand", "bright", "early", "late", "june"),
    *("july", "august", "beau", "gala", "diam", "elegan", "delight", "giant", "champ", "berta"),
)

_WORDS = """
Albavik Aldrum Ankrit Ardimor Ardivasse Aspambra Avrel Beskilune Bessiv Bovarnel Brinekett Brovet
Corvimbry Corvusk Cresarvo Culvane Dalsavane Dalsuppet Dorlisk Dorvondra Dovrel Drellam Dremadric
Dremurvo Dunidovin Dunvel Ebbrit Eldizamo Embuvane Emmisk Eskavin Esmethel Fenasko Fennuk Fissoveth
Fovelto Fovett Fraletta Frolet Fursel Gantrel Gorlet Gosirrow Grimusko Gwelivik Gwenum Havolumo
Heskolam Holulto Hudilam Hudumbra Hulvik Ilvane Ilvorrow Imbarrel Irvumor Istebrel Jessutta Joritta
Jorvet Jumbrel Junorvo Jurrel Kariveth Kelmund Kelvondra Keskovim Kestalune Kimbrol Kovurvo
Laskivik Livutta Lommavet Lumusko Lurrin Mandorvo Mibimbry Morvundra Mulvet Mulvosko Mundrel
Narvelo Naskizamo Nevubrel Nibrel Nolibrel Nolvik Nubbasko Nuvik Ombivasse Ombrel Ondisset Orvimbra
Oskondo Ostimvar Ostrel Ovram Ozmet Pellavane Pimirvo Pimmet Praskel Prelamund Purvane Quaskel
Quesando Quibrin Quisimbry Quisset Quorelam Quorrel Rastolam Rebumund Riluvik Rimsk Rovisk
Rusvet Ruvilisk Sarvethel Sibbrel Sibedovin Skelirrel Skelmo Sotrel Sovrulam Tarvisk Tavimor
Tavolisk Tessindo Thamrel Thamurrow Trenirrin Tulilto Udrel Ulvassan Umbrisk Umbrotta
Urdodovin Usketta Uvret Varnavik Vaskom Veldara Veldumor Vimondo Vintoquet Virrom Voskitull Vossit
Welmit Wendrin Whelundo Wimipall Wosalam Wosket Yaramor Yarvet Yestilam Yestrel Yimmer Yoddrin
Yoluppet Zamumbry Zandrel Zelippet Zelmor Zimbrel Zorrulune
"""
COINED = tuple(_WORDS.split())

# The station's own crosses, and those it tests for a second invented breeder.
PROGRAMMES = ("K", "MV")


def cultivar_names(rng: np.random.Generator, released: np.ndarray, crossed: np.ndarray) -> list[str]:
    """A coined word for each released cultivar, a code (programme, year crossed, seedling) for each selection.

    ``released`` is yes/no and ``crossed`` a year, one a cultivar. Raises ValueError when the words run out.
    """
    if released.sum() > len(COINED):
        raise ValueError(f"{released.sum()} released cultivars, but only {len(COINED)} coined names")
    words = iter(rng.permutation(COINED).tolist())
    taken: set[str] = set()
    names = []
    for is_released, year in zip(released, crossed, strict=True):
        if is_released:
            names.append(next(words))
            continue
        programme = PROGRAMMES[int(rng.random() < 0.25)]
        code = f"{programme}{year % 100:02d}-{rng.integers(10, 400):03d}"
        while code in taken:
            code = f"{programme}{year % 100:02d}-{rng.integers(10, 400):03d}"
        taken.add(code)
        names.append(code)
    return names
