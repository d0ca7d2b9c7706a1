"""A folder of photographs brought to its samples: by code, by name, or said why not; copies are small, upright and bare."""

from __future__ import annotations

import csv
import io
import os
import struct
import zlib
from pathlib import Path

import pytest
import segno
from PIL import Image

from dashboard import cli
from dashboard.records import read
from dashboard.records.photographed import codes as reading
from dashboard.records.photographed.keeping import _file_name
from dashboard.records.photographed.owners import owners, whose
from dashboard.records.photos import located
from tests.records.importing.test_ours import silently
from tests.records.photographs import OWNER, photograph
from tests.records.small import tables, write_folder, write_workbook


def trial(folder: Path, photos: dict[str, str] | None = None, more: list[list[str]] = ()) -> Path:  # type: ignore[assignment]
    """The small records; ``photos``: by sample what stands in its cell."""
    grids = tables()
    rows = grids["samples"] = [*grids["samples"], *more]
    for row in rows:
        row.append("photo" if row is rows[0] else (photos or {}).get(row[0], ""))
    return write_folder(folder, grids)


def coded(path: Path, *texts: str, turned: int = 1) -> Path:
    """A photograph with a code for each text."""
    photograph(path, (900, 700), turned)
    with Image.open(path) as plain:
        image, exif = plain.convert("RGB"), plain.getexif()
    for place, text in enumerate(texts):
        out = io.BytesIO()
        segno.make_qr(text, encoding="utf-8").save(out, kind="png", scale=6, border=4)
        image.paste(Image.open(out).convert("RGB"), (20 + 300 * place, 20))
    image.save(path, exif=exif)
    return path


def photos(capsys, folder: Path, records: Path, *more: str) -> tuple[int, str, str]:
    code = cli.main(["photos", str(folder), "--trial", str(records), *more])
    said = capsys.readouterr()
    return code, said.out, said.err


def cells(records: Path) -> dict[str, str]:
    with (records / "samples.csv").open(encoding="utf-8") as file:
        return {row["sample"]: row["photo"] for row in csv.DictReader(file)}


def bomb(path: Path, side: int) -> None:
    """A small file that says it is a picture of ``side`` by ``side`` pixels (PNG, ISO/IEC 15948, from memory)."""

    def chunk(name: bytes, content: bytes) -> bytes:
        return (
            struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))
        )

    head = struct.pack(">IIBBBBB", side, side, 8, 0, 0, 0, 0)
    path.write_bytes(b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1000)) + chunk(b"IEND", b""))  # fmt: skip


def test_from_the_camera_to_the_cell(tmp_path, capsys):
    """By code (the sample's own name, and the one its label was printed with), by name, upright and bare; imported without a question."""
    records, camera = trial(tmp_path / "trial"), tmp_path / "camera"
    coded(camera / "IMG_1.jpg", "S1", turned=6)
    coded(camera / "IMG_2.jpg", "low 2024-07-20 Brintel 1")
    photograph(camera / "s3 cut.JPG")
    photograph(camera / "IMG_9.jpg")
    before = (records / "samples.csv").read_bytes()
    code, out, _ = photos(capsys, camera, records)
    assert code == 1  # one is nobody's
    assert "IMG_1.jpg: S1, by its code." in out
    assert "IMG_2.jpg: S3, by its code." in out
    assert "s3 cut.JPG: S3, by its name." in out
    assert "IMG_9.jpg: not used; no code was read in it, and its name is that of no sample" in out
    assert "4 in the folder: 3 of a sample, 1 not used." in out
    assert not (records / "photos").exists()  # only said
    sheet = tmp_path / "photos.xlsx"
    assert photos(capsys, camera, records, "--out", str(sheet))[0] == 1
    assert sorted(path.name for path in (records / "photos").iterdir()) == ["S1.jpg", "S3 2.jpg", "S3.jpg"]
    kept = (records / "photos" / "S1.jpg").read_bytes()
    assert OWNER.encode() not in kept
    assert b"Exif" not in kept
    assert Image.open(io.BytesIO(kept)).size == (700, 900)  # was taken with the camera on its side
    assert max(Image.open(records / "photos" / "S3 2.jpg").size) == 1600
    assert (records / "samples.csv").read_bytes() == before  # nothing is written over
    outcome = silently([sheet], records)
    assert outcome.code == 0, outcome.text
    assert cells(records) == {"S1": "S1.jpg", "S2": "", "S3": "S3.jpg; S3 2.jpg", "S4": ""}
    assert not [one for one in read(records, thorough=True).problems if one.column == "photo"]
    # The same folder once more changes nothing.
    code, out, _ = photos(capsys, camera, records, "--out", str(tmp_path / "again.xlsx"))
    assert "again.xlsx is not written" in out
    assert len(list((records / "photos").iterdir())) == 3


def test_what_cannot_be_used_is_said_one_sentence_each(tmp_path, capsys):
    records, camera = trial(tmp_path / "trial"), tmp_path / "camera"
    photograph(camera / "S1.jpg").write_bytes(b"\xff\xd8\xff\xe0 no picture")
    torn = photograph(camera / "S2.jpg")
    torn.write_bytes(torn.read_bytes()[:-2000])
    bomb(camera / "S3.png", 9_000)
    bomb(camera / "S4.png", 60_000)
    (camera / "notes.txt").write_text("S1")
    (camera / "100CANON").mkdir()
    (camera / ".hidden.jpg").write_bytes(b"")
    (camera / "gone.jpg").symlink_to(tmp_path / "nowhere.jpg")
    os.mkfifo(camera / "pipe.jpg")
    code, out, _ = photos(capsys, camera, records, "--out", str(tmp_path / "a.xlsx"))
    assert code == 1
    lines = dict(line.split(": not used; ", 1) for line in out.splitlines() if ": not used; " in line)
    assert lines["S1.jpg"].startswith("it is no JPEG or PNG picture, or a damaged one; save it anew")
    assert lines["S2.jpg"].startswith("it is no JPEG or PNG picture, or a damaged one; save it anew")
    assert lines["S3.png"].startswith("it has 9,000 by 9,000 pixels, more than 50 million")
    assert lines["S4.png"].startswith("it has far more than 50 million pixels")
    assert lines["notes.txt"].startswith("does not end as a picture does")
    assert lines["100CANON"].startswith("is a folder")
    assert lines["gone.jpg"] == lines["pipe.jpg"] == "is no file that can be read."
    assert "8 in the folder: 0 of a sample, 8 not used." in out
    assert not (records / "photos").exists()
    assert not (tmp_path / "a.xlsx").exists()


def test_nothing_is_guessed(tmp_path):
    """Two samples with one code; two codes in one picture; code and name that disagree; the pick that is not theirs."""
    twin = ["S9", "Brintel", "low", "2024-07-20", "1", "", "", "", ""]
    known = owners(read(trial(tmp_path / "trial", {"S2": "IMG_7.jpg"}, [twin])).tables["samples"])
    refused = {
        ("a.jpg", "low 2024-07-20 Brintel 1"): "its code may be that of “S3” and “S9”",
        ("a.jpg", "S1", "S2"): "its code may be that of “S1” and “S2”",
        ("S2.jpg", "S1"): "its code says “S1” and its name “S2”",
        ("IMG_7.jpg", "S1"): "its code says “S1” and its name “S2”",
        ("a.jpg", "low 2024-07-28 T 12-034 1"): "its code “low 2024-07-28 T 12-034 1” is of no sample here",
        ("a.jpg", "https://example.org/S1"): "its code “https://example.org/S1” is of no sample here",
        ("S11.jpg",): "no code was read in it",
        ("S.jpg",): "no code was read in it",
    }
    for (name, *read_codes), why in refused.items():
        sample, told = whose(name, read_codes, known)
        assert sample == "", (name, read_codes)
        assert told.startswith(why)
    taken = {
        ("a.jpg", "low 2024-07-28 T 12-034 2"): "S4",  # as its label says
        ("a.jpg", "low 2024-07-28 T 12-034"): "S4",  # where the label says no pick
        ("S1.jpg", "S1", "https://example.org"): "S1", ("S1-2.jpg",): "S1", ("IMG_7.jpg",): "S2", ("S1.jpg", "other"): "S1",
    }  # fmt: skip
    assert {one: whose(one[0], one[1:], known)[0] for one in taken} == taken


def test_a_label_finds_its_sample_where_the_records_do_not_say_the_pick(tmp_path):
    more = ["low 2024-07-03 Alvane", "Alvane", "low", "2024-07-03", "", "", "", "", ""]
    known = owners(read(trial(tmp_path / "trial", more=[more])).tables["samples"])
    assert whose("a.jpg", ["low 2024-07-03 Alvane 1"], known) == ("low 2024-07-03 Alvane", "by its code")


def test_what_stands_already_is_never_written_over(tmp_path, capsys):
    records, camera = trial(tmp_path / "trial", {"S1": "IMG_1.jpg", "S2": "IMG_2.jpg", "S3": "IMG_3.png"}), tmp_path / "camera"  # fmt: skip
    there = photograph(records / "photos" / "IMG_1.jpg", (200, 100))
    before = there.read_bytes()
    for name in ("IMG_1.jpg", "IMG_2.jpg", "IMG_3.png", "S2 cut.jpg"):
        photograph(camera / name, (300, 200))
    code, out, _ = photos(capsys, camera, records, "--out", str(tmp_path / "a.xlsx"))
    assert code == 1
    assert there.read_bytes() == before
    assert "IMG_1.jpg: not used; the folder photos has another of this name, and it stays." in out
    assert "IMG_2.jpg: S2, by its name, kept as IMG_2.jpg." in out
    assert "“S2” names photographs already; write IMG_2.jpg; S2.jpg into its cell photo." in out
    assert "“S3” names photographs already; write S3.jpg into its cell photo." in out
    assert not (tmp_path / "a.xlsx").exists()  # no cell is empty that could be filled


@pytest.mark.parametrize(
    "sample", ["../../etc/passwd", "a;b:c\\d", "CON", "=cmd|' /C calc'!A0", "桃" * 200, "...", "n\nl", "\u202egpj"]
)  # fmt: skip
def test_a_copy_has_a_name_that_every_disk_takes_and_stays_in_its_folder(tmp_path, sample):
    name = _file_name(sample, 2)
    place = tmp_path / "photos" / name
    assert place.parent == (tmp_path / "photos").resolve()
    assert not set(name) & set('<>:"/\\|?*;\n\u202e')
    assert name != "CON 2.jpg"
    photograph(place, (20, 20))
    assert located(str(tmp_path), name) == place.resolve()


def test_a_hostile_name_comes_through_the_sheet_as_it_was(tmp_path, capsys):
    name = "=1+1 ../{0}"
    records, camera = trial(tmp_path / "trial", more=[["'" + name, "Alvane", "low", "2024-07-09", "1", "", "", "", ""]]), tmp_path / "camera"  # fmt: skip
    coded(camera / "a\x1b[31m.jpg", name)
    sheet = tmp_path / "photos.xlsx"
    code, out, _ = photos(capsys, camera, records, "--out", str(sheet))
    assert code == 0, out
    assert "\x1b" not in out
    outcome = silently([sheet], records)
    assert outcome.code == 0, outcome.text
    assert [value for value in cells(records).values() if value] == ["_1_1 ..__0_.jpg"]


def test_a_phone_s_heic_comes_in_upright_and_bare(tmp_path, capsys, monkeypatch):
    records, camera = trial(tmp_path / "trial"), tmp_path / "camera"
    assert "HEIF" in reading.kinds()
    camera.mkdir()
    sideways = photograph(tmp_path / "b.jpg", (400, 300), turned=6)
    for made, name in ((coded(tmp_path / "a.jpg", "S1"), "IMG_1.HEIC"), (sideways, "S2.heic")):
        with Image.open(made) as image:
            image.save(camera / name, "HEIF")  # its notes come along
    assert b"irot" in (camera / "S2.heic").read_bytes()  # how HEIC says it (ISO/IEC 23008-12, from memory)
    assert photos(capsys, camera, records, "--out", str(tmp_path / "a.xlsx"))[0] == 0
    for name, size in (("S1.jpg", (900, 700)), ("S2.jpg", (300, 400))):
        kept = Image.open(records / "photos" / name)
        assert (kept.format, kept.size, dict(kept.getexif())) == ("JPEG", size, {})
    assert kept.getpixel((250, 50))[0] > 150  # what the camera held to the left is now at the right
    (camera / "S2.heic").write_bytes(b"no picture")
    assert "S2.heic: not used; it is no picture that can be opened, or a damaged one" in photos(capsys, camera, records)[1]  # fmt: skip
    monkeypatch.setattr("dashboard.records.photographed.taking.kinds", lambda: ("JPEG", "PNG"))
    out = photos(capsys, camera, records)[1]
    assert out.count('is a HEIC picture; pip install "orchard-slate[heic]" first') == 2


def test_without_the_library_names_alone_tell_and_that_is_said(tmp_path, capsys, monkeypatch):
    monkeypatch.setattr(reading, "reader", lambda: None)
    records, camera = trial(tmp_path / "trial"), tmp_path / "camera"
    coded(camera / "IMG_1.jpg", "S1")
    photograph(camera / "S2.jpg", (30, 20))
    code, out, err = photos(capsys, camera, records)
    assert code == 1
    assert 'pip install "orchard-slate[photos]"' in err
    assert "S2.jpg: S2, by its name." in out
    assert "IMG_1.jpg: not used" in out


def test_what_cannot_begin_is_said_in_a_sentence(tmp_path, capsys):
    records = trial(tmp_path / "trial")
    (records / "photos").mkdir()
    (tmp_path / "there.xlsx").write_bytes(b"mine")
    for folder, more, said in (
        (tmp_path / "none", [], "there is no such folder"),
        (records / "photos", [], "is the trial's own folder of photographs"),
        (tmp_path, ["--out", str(tmp_path / "a.csv")], "the sheet's name ends in .xlsx"),
        (tmp_path, ["--out", str(tmp_path / "there.xlsx")], "is there already and is left as it is"),
    ):
        code, _, err = photos(capsys, folder, records, *more)
        assert code == 1
        assert said in err
    assert cli.main(["photos", str(tmp_path), "--trial", str(tmp_path / "none")]) == 1
    assert "there is no such folder or file" in capsys.readouterr().err


def test_the_sheet_comes_into_a_store_and_into_a_workbook_by_hand(tmp_path, capsys):
    grids = tables()
    book = write_workbook(tmp_path / "trial.xlsx", grids, {})
    store = str(tmp_path / "trial.store")
    assert cli.main(["store", "bring", str(trial(tmp_path / "trial")), "--into", store]) == 0
    coded(tmp_path / "camera" / "IMG_1.jpg", "S1")
    for records, sheet, then in ((store, "a.xlsx", "store bring"), (str(book), "b.xlsx", "copy its cells photo into the sheet samples")):  # fmt: skip
        code, out, _ = photos(capsys, tmp_path / "camera", Path(records), "--out", str(tmp_path / sheet))
        assert code == 0
        assert then in out
    assert cli.main(["store", "bring", str(tmp_path / "a.xlsx"), "--into", store]) == 0
    kept = read(store).tables["samples"].set_index("sample")["photo"]
    assert kept.loc["S1"] == "S1.jpg"
