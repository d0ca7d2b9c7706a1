"""A folder of pictures gone through: of each file whose it is, or why it cannot be used."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from dashboard.records.photographed.codes import HEIC, codes, kinds
from dashboard.records.photographed.owners import Owners, whose
from dashboard.records.photos import ENDINGS
from dashboard.records.pictures import KINDS, PictureError, cleaned
from dashboard.records.problems import seen

SIDE = (
    1600  # pixels of the longer side of a copy: twice what a page shows, so that a blemish can be looked at
)
_NO_HEIC = 'is a HEIC picture; pip install "orchard-slate[heic]" first, or save it as .jpg'
_DAMAGED = "is no picture that can be opened, or a damaged one"


@dataclass(frozen=True)
class Taken:
    """``copy``: what is kept of it, empty where it is nobody's; ``told``: by what it is known, or why it is not used."""

    path: Path
    sample: str
    told: str
    copy: bytes = b""

    @property
    def sentence(self) -> str:
        name = seen(self.path.name)
        return f"{name}: {seen(self.sample)}, {self.told}." if self.sample else f"{name}: not used; {self.told}."  # fmt: skip


def files(folder: Path) -> list[Path]:
    """What is in the folder, by name; what is hidden is passed over. ValueError, one sentence, where it cannot be looked into."""
    try:
        return sorted(path for path in folder.iterdir() if not path.name.startswith("."))
    except OSError as fault:
        raise ValueError(f"{folder}: cannot be read ({fault.strerror}); let this program read it.") from None


def taken(path: Path, known: Owners) -> Taken:
    """Whose the picture is, with its copy; or why it is not used."""
    ending = path.suffix.lower()
    if path.is_dir():
        return Taken(path, "", "is a folder; name it as the folder to look into it")
    if not path.is_file():
        return Taken(path, "", "is no file that can be read")
    if ending in HEIC and kinds() == KINDS:
        return Taken(path, "", _NO_HEIC)
    if ending not in (*ENDINGS, *HEIC):
        return Taken(path, "", "does not end as a picture does; save it as .jpg")
    try:
        sample, told = whose(path.name, codes(path), known)
        # What is nobody's is decoded, too: whoever renames it should not learn only then that it is damaged.
        copy = cleaned(path, SIDE, kinds())
    except PictureError as fault:
        rule = _DAMAGED if ending in HEIC and fault.rule.startswith("is no JPEG") else fault.rule
        return Taken(path, "", f"it {rule}; {fault.suggestion}")
    return Taken(path, sample, told, copy if sample else b"")
