"""Who may bring records in: the password and its file, wrong ones, sessions, and posts from elsewhere."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterator
from pathlib import Path

import argon2
import pytest

from dashboard.cli import main
from dashboard.serving.bringing import sessions as sessions_file
from dashboard.serving.bringing.password import Password, set_password
from dashboard.serving.bringing.room import Room
from dashboard.serving.bringing.sessions import IDLE_S, LONGEST_S, MOST_HERE, WINDOW_S, RefusedError, Sessions
from tests.records.small import tables, write_folder
from tests.serving.bringing.visitor import SECRET, Visitor, opened, quick_hash, small_room


@pytest.fixture(autouse=True, scope="module")
def quick() -> Iterator[None]:
    """The hash with little work: how much it takes is the library's, and asked once below."""
    with pytest.MonkeyPatch.context() as patch:
        quick_hash(patch)
        yield


@pytest.fixture(scope="module")
def trial(tmp_path_factory) -> Path:
    return write_folder(tmp_path_factory.mktemp("doors") / "trial", tables())


@pytest.fixture
def room(trial) -> Room:
    return small_room(trial, named=("trials.example",))


@pytest.fixture
def port(room) -> Iterator[int]:
    with opened(room) as at:
        yield at


def test_the_password_is_kept_as_a_hash_that_only_its_owner_may_read(tmp_path, capsys, monkeypatch):
    trial = write_folder(tmp_path / "trial", tables())
    monkeypatch.setattr("sys.stdin.isatty", lambda: False, raising=False)
    monkeypatch.setattr("sys.stdin.readline", lambda: SECRET + "\n", raising=False)
    assert main(["password", str(trial)]) == 0
    place = trial / "importing" / "password"
    text = place.read_text()
    assert SECRET not in text
    assert text.startswith("$argon2id$")
    assert stat.S_IMODE(place.stat().st_mode) == 0o600 or os.name != "posix"
    assert Password(place).is_right(SECRET)
    assert not Password(place).is_right(SECRET + " ")
    assert SECRET not in capsys.readouterr().out


def test_the_library_is_left_to_say_how_much_work_a_hash_is(tmp_path):
    """RFC 9106 (2021), section 4, second recommended option: Argon2id, 3 passes, 64 MiB, 4 lanes."""
    said = argon2.extract_parameters(argon2.PasswordHasher().hash("x"))
    assert said.type is argon2.Type.ID
    assert (said.time_cost, said.memory_cost, said.parallelism) == (3, 65536, 4)


@pytest.mark.parametrize("said", ["", "short", "x" * 201])
def test_a_password_that_is_none_is_refused(said, tmp_path):
    with pytest.raises(ValueError, match="10 to 200 characters"):
        set_password(tmp_path / "password", said)
    assert not (tmp_path / "password").exists()


def test_the_server_does_not_start_without_a_password_or_with_an_open_file(trial, tmp_path, capsys):
    other = write_folder(tmp_path / "other", tables())
    assert main(["serve", str(other), "--records"]) == 1
    assert "there is no password yet; set one with  orchard-slate password" in capsys.readouterr().err
    set_password(other / "importing" / "password", SECRET)
    if os.name == "posix":
        (other / "importing" / "password").chmod(0o644)
        assert main(["serve", str(other), "--records"]) == 1
        assert "chmod 600" in capsys.readouterr().err
    assert main(["serve", "--records"]) == 1
    assert "The demo takes no records in" in capsys.readouterr().err


def test_nothing_is_shown_or_done_before_somebody_is_in(port):
    stranger = Visitor(port)
    for path in ("/records", "/records/trays/0123456789abcdef", "/records/trays/0123456789abcdef/set_aside.xlsx", "/records/nowhere"):  # fmt: skip
        status, text = stranger.ask(path)
        assert status == 200
        assert 'name="password"' in text
        assert "Drop your sheets" not in text
    for path in (
        "/records/trays",
        "/records/undo?number=1",
        "/records/trays/0123456789abcdef/files?name=a.csv",
    ):
        assert stranger.post(path)[0] == 401


def test_whoever_has_the_password_comes_in_and_goes_out(port):
    ann = Visitor(port)
    assert ann.log_in("not this one") == 401
    assert ann.log_in(SECRET, who="  ") == 400
    assert ann.log_in(SECRET) == 303
    said = ann.headers["Set-Cookie"]
    assert "HttpOnly" in said
    assert "SameSite=Strict" in said
    assert "Path=/records" in said
    assert "Secure" not in said  # it came unencrypted
    assert "Drop your sheets" in ann.ask("/records")[1]
    before = ann.cookie
    assert ann.post("/records/logout")[0] == 303
    ann.cookie = before
    assert "Drop your sheets" not in ann.ask("/records")[1]


def test_behind_a_proxy_that_encrypts_the_cookie_is_for_that_alone(port):
    ann = Visitor(port)
    assert ann.log_in(SECRET, X_Forwarded_Proto="https") == 303
    assert "; Secure" in ann.headers["Set-Cookie"]


@pytest.mark.parametrize(
    "said",
    [
        {"Origin": "http://elsewhere.example"},
        {"Origin": "null"},
        {"Origin": ""},
        {"Origin": "http://localhost:1"},
        {"Sec_Fetch_Site": "cross-site"},
        {"Sec_Fetch_Site": "same-site"},
        {"Sec_Fetch_Site": "none"},
    ],
)
def test_a_post_from_elsewhere_does_nothing(port, said):
    ann = Visitor(port)
    ann.log_in(SECRET)
    for path in ("/records/trays", "/records/undo?number=1", "/records/login", "/records/logout"):
        assert ann.post(path, **said)[0] == 403
    assert "Drop your sheets" in ann.ask("/records")[1]  # not even logged out


def test_wrong_passwords_have_to_wait_and_the_others_do_not(port):
    stranger, ann = Visitor(port), Visitor(port)
    for _ in range(MOST_HERE):
        assert stranger.log_in("guess", X_Forwarded_For="203.0.113.9") == 401
    assert stranger.log_in(SECRET, X_Forwarded_For="203.0.113.9") == 429
    assert int(stranger.headers["Retry-After"]) > 0
    assert (
        ann.log_in(SECRET, X_Forwarded_For="203.0.113.9, 203.0.113.10") == 303
    )  # the proxy's word counts, not the visitor's


def test_an_address_is_no_way_around_the_wait(port):
    """All of an IPv6 network of a house is one address, and what is no address is none: such tries count by where they come from."""
    stranger = Visitor(port)
    for host in range(MOST_HERE):
        assert stranger.log_in("guess", X_Forwarded_For=f"2001:db8::{host:x}") == 401
    assert stranger.log_in(SECRET, X_Forwarded_For="2001:db8::ffff") == 429
    for guess in range(MOST_HERE):
        assert stranger.log_in("guess", X_Forwarded_For=f"somebody {guess}") == 401
    assert stranger.log_in(SECRET, X_Forwarded_For="somebody else") == 429
    assert stranger.log_in(SECRET, X_Forwarded_For="2001:db8:0:1::1") == 303


def test_without_a_proxy_nobody_chooses_the_address_that_tries_are_counted_by(room, port):
    room.named = ()
    stranger = Visitor(port)
    for guess in range(MOST_HERE):
        assert stranger.log_in("guess", X_Forwarded_For=f"203.0.113.{guess}") == 401
    assert stranger.log_in(SECRET, X_Forwarded_For="203.0.113.99") == 429


class Clock:
    now = 0.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def sessions(tmp_path, clock) -> Sessions:
    set_password(tmp_path / "password", SECRET)
    return Sessions(Password(tmp_path / "password"), clock)


def test_from_many_addresses_it_is_counted_in_all(sessions, clock, monkeypatch):
    monkeypatch.setattr(sessions_file, "MOST_TRIES", 8)
    for number in range(8):
        with pytest.raises(RefusedError, match="not the password"):
            sessions.log_in("Ann", "guess", f"203.0.113.{number}")
    with pytest.raises(RefusedError, match="try again in 16 minutes") as caught:
        sessions.log_in("Ann", SECRET, "203.0.113.99")
    assert caught.value.status == 429
    clock.now += WINDOW_S
    assert sessions.log_in("Ann", SECRET, "203.0.113.99")


def test_right_passwords_are_not_counted(sessions):
    for _ in range(3 * MOST_HERE):
        sessions.log_in("Ann", SECRET, "203.0.113.9")


def test_a_session_ends_when_nothing_is_done_and_after_a_day(sessions, clock):
    token = sessions.log_in("Ann", SECRET, "")
    for _ in range(LONGEST_S // (IDLE_S - 60)):
        assert sessions.who(token) == "Ann"
        clock.now += IDLE_S - 60
    clock.now = LONGEST_S + 1
    assert sessions.who(token) == ""
    token = sessions.log_in("Ann", SECRET, "")
    clock.now += IDLE_S + 1
    assert sessions.who(token) == ""
    assert sessions.who(None) == ""
    assert sessions.who("x" * 43) == ""


def test_a_new_password_ends_what_was_begun_with_the_old_one(sessions):
    token = sessions.log_in("Ann", SECRET, "")
    set_password(sessions.password.path, "apricot by the gate")
    assert sessions.who(token) == ""
    with pytest.raises(RefusedError):
        sessions.log_in("Ann", SECRET, "")


def test_of_very_many_sessions_the_one_that_rested_longest_goes(sessions, clock, monkeypatch):
    monkeypatch.setattr(sessions_file, "MOST", 2)
    tokens = []
    for who in ("Ann", "Bob", "Cleo"):
        tokens.append(sessions.log_in(who, SECRET, ""))
        clock.now += 1
    assert [sessions.who(token) for token in tokens] == ["", "Bob", "Cleo"]
