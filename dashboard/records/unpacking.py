"""What a workbook unpacks to, looked through before it is opened: a small file can ask for any amount of memory.

Every part is run through a parser of XML that keeps nothing but counts, so that what is refused costs little more than
the file. Numbers and dates are not looked at; that is left to the library that reads them.
"""

from __future__ import annotations

import io
import struct
import zipfile
import zlib

from dashboard.records.sheet_parts import Counted, RefusedError, look_through

# A real workbook of records unpacks to 5-20 times its size; a bomb to a thousand times.
MAX_UNPACKED = 300_000_000
MAX_RATIO = 150
MAX_LIST = 1_000_000  # bytes of the list of what is packed in it

_AGAIN = "save it again as .xlsx"
_STEP = 1 << 20
_NO_WORKBOOK = ("the file ends in .xlsx but is not a workbook, or is damaged", _AGAIN)

Refusal = tuple[str, str]  # rule and suggestion


def looked_through(raw: bytes) -> tuple[Refusal | None, bool]:
    """Why a workbook is refused (rule and suggestion) or None, and whether it holds formulas."""
    if not raw:
        return ("the file is empty", "write the sheets, or name another file"), False
    if raw.startswith(b"\xd0\xcf\x11\xe0"):
        return (
            "the file ends in .xlsx but is an old workbook (.xls) or has a password",
            _AGAIN + ", without a password",
        ), False
    if _listed_bytes(raw) > MAX_LIST:
        return (
            "the workbook is packed from far more parts than one has",
            "copy the sheets into a new workbook",
        ), False
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as packed:
            refusal = _by_sizes(packed.infolist())
            return (refusal, False) if refusal else (None, _holds_formulas(packed))
    except RefusedError as refused:
        return (refused.rule, refused.suggestion), False
    except (
        zipfile.BadZipFile,
        zipfile.LargeZipFile,
        zlib.error,
        struct.error,
        NotImplementedError,
        RuntimeError,
        EOFError,
        OSError,
        ValueError,
    ):
        return _NO_WORKBOOK, False


def _listed_bytes(raw: bytes) -> int:
    """Bytes that the file says its list of parts has; the list is held whole once it is opened."""
    end = raw.rfind(b"PK\x05\x06")
    said = [struct.unpack_from("<L", raw, end + 12)[0]] if 0 <= end <= len(raw) - 16 else []
    longer = raw.rfind(b"PK\x06\x06")  # where the file is written for sizes beyond 4 GB
    if 0 <= longer <= len(raw) - 48:
        said = [size for size in said if size != 0xFFFFFFFF] + list(
            struct.unpack_from("<Q", raw, longer + 40)
        )
    return max(said, default=0)


def _by_sizes(members: list[zipfile.ZipInfo]) -> Refusal | None:
    unpacked = sum(member.file_size for member in members)
    if unpacked > MAX_UNPACKED or any(
        member.file_size > 10_000_000 and member.file_size > MAX_RATIO * max(1, member.compress_size)
        for member in members
    ):
        return (
            f"the workbook unpacks to {unpacked / 1e6:,.0f} MB, far more than it holds",
            "copy the sheets into a new workbook",
        )
    names = {member.filename for member in members}
    if "xl/workbook.xml" not in names and "[Content_Types].xml" not in names:
        return "the file ends in .xlsx but is not a workbook", _AGAIN
    if any(name.endswith("vbaProject.bin") for name in names):
        return "the workbook holds macros", "save it as .xlsx, without macros"
    return None


def _holds_formulas(packed: zipfile.ZipFile) -> bool:
    """RefusedError where a part asks for too much; reading to the end also checks that the sizes declared are true."""
    counted = Counted()
    for member in sorted(packed.infolist(), key=_shared_first):
        with packed.open(member) as stream:
            if member.filename.lower().endswith((".xml", ".rels")):
                look_through(member.filename, stream, counted)  # type: ignore[arg-type]
            else:
                while stream.read(_STEP):
                    pass
    counted.settle()
    return counted.formulas > 0


def _shared_first(member: zipfile.ZipInfo) -> bool:
    """Shared strings go before the sheets that use them."""
    return not member.filename.lower().endswith("sharedstrings.xml")
