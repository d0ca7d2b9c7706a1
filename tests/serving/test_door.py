"""Who is let in, and what every answer carries: the server as the command starts it, asked by strangers."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from dashboard.visit.network_address import own_address
from tests.records.small import tables, write_folder
from tests.serving import Served
from tests.serving.asking import asked, connected

STRANGER = "rebound.example"  # a name its owner has pointed at this machine


@pytest.fixture(scope="module")
def records(tmp_path_factory):
    return write_folder(tmp_path_factory.mktemp("door") / "records", tables())


@pytest.fixture(scope="module")
def alone(records) -> Iterator[Served]:
    with Served(records) as server:
        yield server


@pytest.fixture(scope="module")
def in_the_room(records) -> Iterator[Served]:
    with Served(records, "--address", "0.0.0.0") as server:
        yield server


@pytest.fixture(scope="module")
def named(records) -> Iterator[Served]:
    with Served(records, "--address", "0.0.0.0", "--origin", "trials.example") as server:
        yield server


@pytest.fixture(scope="module")
def network() -> str:
    """This machine's address in its network; a connection to oneself stands in where there is no network."""
    return own_address() or "127.0.0.1"


@pytest.mark.slow
def test_this_machine_s_own_names_are_let_in(alone):
    for name in ("localhost", "127.0.0.1", "LOCALHOST"):
        host = f"{name}:{alone.port}"
        assert asked(alone.port, host=host).status == 200, name
        assert connected(alone.port, host, f"http://{host}") == 101, name


@pytest.mark.parametrize("path", ["/", "/nursery", "/static/js/bokeh.min.js", "/nowhere"])
def test_a_name_that_was_not_allowed_is_refused_with_one_sentence(alone, path):
    told = asked(alone.port, path, host=f"{STRANGER}:{alone.port}")
    assert told.status == 403
    assert told.headers["content-type"].startswith("text/plain")
    assert told.text.count("\n") == 1
    assert f"--origin {STRANGER}" in told.text


def test_a_name_that_was_not_allowed_gets_no_websocket_though_its_page_comes_from_there_too(alone):
    host = f"{STRANGER}:{alone.port}"
    assert connected(alone.port, host, f"http://{host}") == 403
    assert connected(alone.port, host) == 403


def test_another_site_s_page_gets_no_websocket_though_it_knows_the_name(alone, in_the_room):
    for server in (alone, in_the_room):
        for origin in ("http://elsewhere.example", "null", f"http://localhost:{server.port + 1}"):
            assert connected(server.port, f"localhost:{server.port}", origin) == 403, origin


def test_the_room_comes_in_by_this_machine_s_address_and_by_no_other_name(in_the_room, network):
    host = f"{network}:{in_the_room.port}"
    assert asked(in_the_room.port, host=host, at=network).status == 200
    assert connected(in_the_room.port, host, f"http://{host}", at=network) == 101
    for other in (STRANGER, "203.0.113.9"):  # RFC 5737: an address nobody has
        host = f"{other}:{in_the_room.port}"
        assert asked(in_the_room.port, host=host, at=network).status == 403
        assert connected(in_the_room.port, host, f"http://{host}", at=network) == 403


@pytest.mark.slow
def test_a_name_that_was_given_is_the_only_one_beside_this_machine_s_own(named, network):
    for origin in ("http://trials.example", "https://trials.example"):
        assert asked(named.port, host="trials.example").status == 200
        assert connected(named.port, "trials.example", origin) == 101
    assert asked(named.port, host=f"localhost:{named.port}").status == 200
    if network != "127.0.0.1":
        assert asked(named.port, host=f"{network}:{named.port}", at=network).status == 403


def test_whether_it_lives_is_told_to_a_balancer_that_knows_no_name(alone):
    told = asked(alone.port, "/liveness", host="203.0.113.9")
    assert (told.status, told.text) == (200, "alive\n")


def test_a_name_that_is_no_name_is_refused_and_not_repeated(alone):
    for name in ("<b>x</b>", "a b", "x" * 300):
        told = asked(alone.port, host=name)
        assert told.status in (400, 403)
        assert name not in told.text


@pytest.mark.parametrize("path", ["/", "/nowhere", "/static/js/bokeh.min.js", "/liveness"])
def test_every_answer_says_how_it_is_to_be_used(alone, path):
    headers = asked(alone.port, path).headers
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["referrer-policy"] == "no-referrer"
    assert "frame-ancestors 'none'" in headers["content-security-policy"]
    assert "default-src 'none'" in headers["content-security-policy"]
    assert "server" not in headers


def test_no_script_runs_that_is_not_written_on_the_page_or_fetched_from_here(alone):
    numbers = set()
    for _ in range(2):
        page = asked(alone.port)
        policy = page.headers["content-security-policy"]
        scripts = next(part for part in policy.split("; ") if part.startswith("script-src "))
        assert "'unsafe-inline'" not in scripts
        assert "http" not in policy
        number = re.search(r"'nonce-([\w-]{20,})'", scripts)[1]
        written = re.findall(r"<script(?![^>]* src=)[^>]*>", page.text)
        assert written
        assert all(f'nonce="{number}"' in tag for tag in written)
        numbers.add(number)
    assert len(numbers) == 2, "each answer has its own"


def test_a_page_is_kept_by_nobody_and_a_versioned_file_for_long(alone):
    assert asked(alone.port).headers["cache-control"] == "no-store"
    assert asked(alone.port, "/static/js/bokeh.min.js").headers["cache-control"] == "no-cache"
    assert "max-age=3" in asked(alone.port, "/static/js/bokeh.min.js?v=1").headers["cache-control"]


@pytest.mark.parametrize(
    ("path", "status"),
    [
        ("/nowhere", 404),
        ("/static/nothing.js", 404),
        ("/static/extensions/panel/none.js", 404),
        ("/static/../../etc/passwd", 403),
        ("/static/js", 403),
        ("/ws", 400),
        ("/?bokeh-session-id=a&bokeh-token=b", 403),
        ("/?bokeh-token=b", 403),
    ],
)
def test_an_error_is_one_plain_sentence_without_what_went_on_inside(alone, path, status):
    told = asked(alone.port, path)
    assert told.status == status
    assert told.headers["content-type"].startswith("text/plain")
    assert told.text.count("\n") == 1
    for inside in ("Traceback", ".py", "site-packages", "tornado", "<"):
        assert inside not in told.text


@pytest.mark.parametrize(
    "path", ["/autoload.js?bokeh-autoload-element=1", "/nursery/autoload.js", "/metadata"]
)
def test_what_the_page_has_no_use_for_is_not_there(alone, path):
    assert asked(alone.port, path).status == 404


def test_nobody_outside_has_a_module_imported(alone):
    assert asked(alone.port, "/components/this/a/b/c").status == 404  # it says a poem when it is imported
    assert "Zen of Python" not in alone.said()
    assert asked(alone.port, "/components/os/path/sep/x").status == 403  # loaded, and gives nothing out
