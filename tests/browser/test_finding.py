"""The browser tests find a Chromium where there is one, and say what to install where there is none."""

from __future__ import annotations

import pytest

from tests.browser import finding


@pytest.fixture
def bare(monkeypatch, tmp_path):
    """A machine without any browser."""
    monkeypatch.delenv(finding.NAMED, raising=False)
    monkeypatch.setenv("PATH", str(tmp_path))
    return tmp_path


def program(path):
    path.write_text("#!/bin/sh\n", encoding="utf-8")
    path.chmod(0o755)
    return str(path)


def nothing() -> None:
    """A fetch that brings nothing."""


def test_the_named_one_comes_first(bare, monkeypatch):
    program(bare / "chromium")
    named = program(bare / "mine")
    monkeypatch.setenv(finding.NAMED, named)
    assert finding.chromium(str(bare / "own")) == named


def test_a_name_that_leads_nowhere_is_told(bare, monkeypatch):
    monkeypatch.setenv(finding.NAMED, str(bare / "gone"))
    with pytest.raises(finding.NoBrowserError, match="is not there"):
        finding.chromium(str(bare / "own"), nothing)


@pytest.mark.parametrize("name", finding.INSTALLED)
def test_an_installed_one_is_found(bare, name):
    installed = program(bare / name)
    assert finding.chromium(str(bare / "own"), nothing) == installed


def test_the_one_playwright_has_is_taken_without_fetching(bare):
    own = program(bare / "own")
    asked = []
    assert finding.chromium(own, lambda: asked.append(1)) == own
    assert asked == []


def test_else_one_is_fetched(bare):
    own = bare / "own"
    assert finding.chromium(str(own), lambda: program(own)) == str(own)


def test_where_none_can_be_had_one_sentence_says_what_to_install(bare):
    with pytest.raises(finding.NoBrowserError) as told:
        finding.chromium(str(bare / "own"), nothing)
    assert "install chromium" in str(told.value)
    assert "\n" not in str(told.value)
