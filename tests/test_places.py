"""What is written is there whole, or what stood there still stands; by every command that writes a file."""

from __future__ import annotations

import os
import resource
import stat
from contextlib import contextmanager
from pathlib import Path

import pytest

from dashboard import cli
from dashboard.estimates import stored
from dashboard.places import MARKETS, demo_data, put

MARKET = ["--market", str(MARKETS / "roadside_stand.toml")]
SITE = ["--site", "ondry"]


@contextmanager
def full_disk(room: int = 10):
    """No file can be written that is longer than ``room`` bytes, as on a disk with no more left."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (room, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.alike(3)
@pytest.mark.parametrize(
    ("command", "name"),
    [
        (["handout", "--shortlist", "Aldrum"], "a.pdf"),
        (["handout", "--shortlist", "Aldrum"], "a.xlsx"),
        (["publish", *MARKET], "a.html"),
        (["rank", *MARKET], "a.csv"),
        (["estimate", "--trait", "size"], "a.csv"),
        (["ripening", *SITE], "a.csv"),
        (["walk", *SITE], "a.csv"),
    ],
    ids=["paper", "workbook", "slate", "ranking", "estimates", "ripening", "walk"],
)
def test_on_a_full_disk_what_stood_there_still_stands(command, name, demo, tmp_path, capsys):
    place = tmp_path / name
    place.write_bytes(b"mine")
    with full_disk():
        assert cli.main([*command, str(demo_data()), "--out", str(place)]) == 1
    said = capsys.readouterr().err.strip().splitlines()[-1]
    assert said.startswith(f"{place}: cannot be written (File too large); name a file")
    assert place.read_bytes() == b"mine"
    assert [item.name for item in tmp_path.iterdir()] == [name]


def test_the_template_on_a_full_disk_leaves_nothing(tmp_path, capsys):
    with full_disk():
        assert cli.main(["template", str(tmp_path / "a.xlsx")]) == 1
    assert "cannot be written" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_worked_out_values_on_a_full_disk_are_not_kept(demo, tmp_path):
    with full_disk():
        stored.write(tmp_path / "worths-1.npz", dict(list(demo.worth.items())[:1]))
    assert list(tmp_path.iterdir()) == []


def test_a_device_is_written_into_and_says_when_it_is_full(tmp_path):
    with pytest.raises(OSError, match="No space left") as full:
        put(Path("/dev/full"), b"x")
    assert full.value.filename == "/dev/full"
    assert stat.S_ISCHR(os.stat("/dev/full").st_mode)


def test_a_link_stays_and_what_it_leads_to_is_replaced(tmp_path):
    (tmp_path / "there.csv").write_bytes(b"old")
    (tmp_path / "link.csv").symlink_to("there.csv")
    put(tmp_path / "link.csv", b"new")
    assert (tmp_path / "link.csv").is_symlink()
    assert (tmp_path / "there.csv").read_bytes() == b"new"


def test_who_may_read_it_stays_as_it_was(tmp_path):
    place = tmp_path / "a.csv"
    place.write_bytes(b"old")
    place.chmod(0o640)
    put(place, b"new")
    assert (place.read_bytes(), stat.S_IMODE(place.stat().st_mode)) == (b"new", 0o640)
