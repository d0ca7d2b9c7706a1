"""Which names a server answers to."""

from __future__ import annotations

import pytest

from dashboard.serving.hosts import Hosts


@pytest.mark.parametrize(
    ("hosts", "host", "arrived", "admitted"),
    [
        (Hosts(), "localhost", "127.0.0.1", True),
        (Hosts(), "127.0.0.1", "127.0.0.1", True),
        (Hosts(), "[::1]", "::1", True),
        (Hosts(), "LocalHost", "127.0.0.1", True),
        (Hosts(), "rebound.example", "127.0.0.1", False),
        (Hosts(), "localhost.rebound.example", "127.0.0.1", False),
        (Hosts(), "127.0.0.1.rebound.example", "127.0.0.1", False),
        (Hosts(), "", "127.0.0.1", False),
        (Hosts("192.168.1.20"), "192.168.1.20", "192.168.1.20", True),
        (Hosts("trial-pc"), "trial-pc", "192.168.1.20", True),
        (Hosts("0.0.0.0"), "192.168.1.20", "192.168.1.20", True),
        (Hosts("0.0.0.0"), "10.0.0.7", "10.0.0.7", True),  # several networks: by the one that was called
        (Hosts("0.0.0.0"), "10.0.0.7", "192.168.1.20", False),
        (Hosts("0.0.0.0"), "0.0.0.0", "127.0.0.1", False),
        (Hosts("0.0.0.0"), "rebound.example", "192.168.1.20", False),
        (Hosts("0.0.0.0"), "", "", False),
        (Hosts("::"), "[fe80::1]", "fe80::1%eth0", True),
        (Hosts("0.0.0.0", ("trials.example",)), "trials.example", "192.168.1.20", True),
        (Hosts("0.0.0.0", ("trials.example",)), "192.168.1.20", "192.168.1.20", False),
        (Hosts("0.0.0.0", ("trials.example",)), "localhost", "127.0.0.1", True),
        (Hosts("localhost", ("trials.example:8443",)), "trials.example", "127.0.0.1", True),
        (Hosts("localhost", ("Trials.Example",)), "trials.example", "127.0.0.1", True),
        (Hosts("localhost", ("*.trials.example",)), "peach.trials.example", "127.0.0.1", True),
        (Hosts("localhost", ("*.trials.example",)), "trials.example.rebound.example", "127.0.0.1", False),
        (Hosts("localhost", ("*",)), "anything.example", "127.0.0.1", True),
    ],
)  # fmt: skip
def test_a_name_is_admitted_where_it_is_this_machine_s_own_or_was_given(hosts, host, arrived, admitted):
    assert hosts.admits(host, arrived) is admitted


@pytest.mark.parametrize(
    "named", ["https://trials.example", "trials.example/", "a b", "", "x:y", "trials.example:"]
)
def test_what_is_no_host_is_refused_with_a_sentence(named):
    with pytest.raises(ValueError, match=r"write trials\.example"):
        Hosts("localhost", (named,))


@pytest.mark.parametrize("host", ["<b>x</b>", "x" * 300, "a b", ""])
def test_a_name_that_is_none_is_not_repeated(host):
    assert Hosts().refusal(host) == "This server is not known by that name."


def test_a_refusal_says_what_would_help():
    assert "--origin laptop.local" in Hosts("0.0.0.0").refusal("Laptop.local")
