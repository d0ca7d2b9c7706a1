"""Where a phone finds the page: this machine's own address in place of localhost, or one sentence why not."""

from __future__ import annotations

import socket

import pytest

from dashboard.visit import network_address as reaching
from dashboard.visit.network_address import ALONE, NOWHERE, Reach, found_at, own_address, reach, refused


@pytest.mark.parametrize(
    ("opened_at", "listens", "own", "found"),
    [
        ("http://localhost:5006/", "0.0.0.0", "192.168.1.20", Reach("http://192.168.1.20:5006/")),
        ("http://127.0.0.1:5006/nursery", "0.0.0.0", "10.0.0.7", Reach("http://10.0.0.7:5006/nursery")),
        ("http://[::1]:5006/", "", "10.0.0.7", Reach("http://10.0.0.7:5006/")),
        ("http://localhost/", "0.0.0.0", "10.0.0.7", Reach("http://10.0.0.7/")),
        ("http://localhost:5006", "", "10.0.0.7", Reach("http://10.0.0.7:5006/")),
        ("http://localhost:5006/", "localhost", "192.168.1.20", Reach(why=ALONE)),
        ("http://localhost:5006/", "127.0.0.1", "192.168.1.20", Reach(why=ALONE)),
        ("http://localhost:5006/", "0.0.0.0", "", Reach(why=NOWHERE)),
        ("https://trials.example/", "localhost", "", Reach("https://trials.example/")),  # through a server in front
        ("http://192.168.1.20:5006/", "0.0.0.0", "10.0.0.7", Reach("http://192.168.1.20:5006/")),
        ("http://0.0.0.0:5006/", "0.0.0.0", "10.0.0.7", Reach("http://10.0.0.7:5006/")),  # leads nowhere from a phone
    ],
)  # fmt: skip
def test_a_phone_is_sent_where_it_can_reach(opened_at, listens, own, found):
    assert reach(opened_at, listens, own) == found


@pytest.mark.parametrize(
    ("listens", "named", "own", "told"),
    [
        ("localhost", (), "10.0.0.7", "http://localhost:5006/"),
        ("127.0.0.1", (), "10.0.0.7", "http://127.0.0.1:5006/"),
        ("::1", (), "10.0.0.7", "http://[::1]:5006/"),
        ("192.168.1.20", (), "10.0.0.7", "http://192.168.1.20:5006/"),
        ("0.0.0.0", (), "10.0.0.7", "http://localhost:5006/, for others in its network at http://10.0.0.7:5006/"),
        ("::", (), "10.0.0.7", "http://localhost:5006/, for others in its network at http://10.0.0.7:5006/"),
        ("", (), "", f"http://localhost:5006/. {NOWHERE}"),
        ("0.0.0.0", ("laptop.local",), "10.0.0.7", "http://localhost:5006/, for others by the name laptop.local"),
        ("localhost", ("trials.example", "b:8443"), "", "http://localhost:5006/, for others by the names trials.example, b:8443"),
    ],
)  # fmt: skip
def test_the_command_says_addresses_that_can_be_opened(listens, named, own, told):
    assert found_at(listens, 5006, named, own) == told


@pytest.mark.parametrize(
    "text", ["", "localhost", "javascript:alert(1)", "http://", "http://a b/", "http://[::1", "http://x:y/"]
)
def test_what_is_no_page_s_address_leads_nowhere(text):
    found = reach(text, "", "10.0.0.7")
    assert found.base == ""
    assert found.why


def test_where_the_server_listens_is_known_from_the_command(monkeypatch):
    monkeypatch.setenv(reaching.LISTENS, "localhost")
    assert reach("http://localhost:5006/", own="10.0.0.7").why == ALONE
    monkeypatch.setenv(reaching.LISTENS, "0.0.0.0")
    assert reach("http://localhost:5006/", own="10.0.0.7").base == "http://10.0.0.7:5006/"


class Socket:
    """A datagram socket of a machine with these addresses, by the network asked for; whatever is sent fails the test."""

    networks: dict[str, str]

    def __init__(self, *_kind):
        self.own = ""

    def __enter__(self):
        return self

    def __exit__(self, *_exception):
        return None

    def connect(self, far):
        if far[0] not in self.networks:
            raise OSError("network is unreachable")
        self.own = self.networks[far[0]]

    def getsockname(self):
        return (self.own, 1)


@pytest.mark.parametrize(
    ("networks", "found"),
    [
        ({}, ""),
        ({"192.168.255.255": "192.168.7.3"}, "192.168.7.3"),
        ({"10.255.255.255": "10.1.1.1", "192.168.255.255": "192.168.7.3"}, "10.1.1.1"),
        ({"10.255.255.255": "127.0.0.1", "192.168.255.255": "192.168.7.3"}, "192.168.7.3"),
        ({"10.255.255.255": "127.0.0.1"}, ""),
    ],
)
def test_the_first_address_that_is_not_this_machine_alone_is_taken(monkeypatch, networks, found):
    monkeypatch.setattr(Socket, "networks", networks, raising=False)
    monkeypatch.setattr(socket, "socket", Socket)
    assert own_address() == found


@pytest.mark.parametrize(
    ("address", "told"),
    [
        ("::1", "::1: the page is served at addresses of the form 127.0.0.1 alone; name localhost"),
        (
            "192.0.2.7",
            "192.0.2.7: is no address of this machine; name localhost",
        ),  # for documents alone, RFC 5737
        ("nowhere.invalid", "nowhere.invalid: is no address of this machine"),  # in no network, RFC 2606
        ("x" * 300, "is no address of this machine"),
    ],
)
def test_an_address_that_cannot_be_served_at_is_told_in_one_sentence(address, told):
    said = refused(address, 0)
    assert told in said
    assert said.endswith(".")
    assert "\n" not in said


@pytest.mark.parametrize("port", [-1, 65_536])
def test_a_port_that_there_is_not_is_told(port):
    assert (
        refused("localhost", port)
        == f"port {port} on localhost is taken or not allowed; choose another with --port."
    )


def test_a_free_port_is_not_refused():
    assert refused("localhost", 0) == ""
