"""Where a phone in the room's network finds this page. Nothing is sent to find out."""

from __future__ import annotations

import errno
import ipaddress
import os
import socket
from collections.abc import Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

LISTENS = "ORCHARD_SLATE_ADDRESS"  # where the server listens; set by the command
# A private network each, RFC 1918. To "connect" a datagram socket only asks the system which of its own addresses it would use.
_ASKED = ("10.255.255.255", "192.168.255.255", "172.31.255.255")
ALONE = "Phones cannot open this page yet: stop orchard-slate and start it again with --address 0.0.0.0."
NOWHERE = (
    "Phones cannot open this page yet: this machine is in no network; join the room's, or make a hotspot."
)


@dataclass(frozen=True)
class Reach:
    """``base``, as ``http://192.168.1.20:5006/``, or why there is none, in one sentence."""

    base: str = ""
    why: str = ""


def reach(opened_at: str, listens: str | None = None, own: str | None = None) -> Reach:
    """``opened_at``: the page's address without its question, as its browser says. ``listens`` and ``own`` are found out."""
    listens = os.environ.get(LISTENS, "") if listens is None else listens
    try:
        parts = urlsplit(opened_at)
        host, port = parts.hostname or "", parts.port
    except ValueError:
        host, port = "", None
    if parts_missing(host, opened_at):
        return Reach(why="This page's own address is not known; reload it.")
    if not looped(host) and not everywhere(host):
        return Reach(f"{parts.scheme}://{parts.netloc}{parts.path or '/'}")
    if listens and looped(listens):
        return Reach(why=ALONE)
    found = own_address() if own is None else own
    if not found:
        return Reach(why=NOWHERE)
    return Reach(f"{parts.scheme}://{found}{f':{port}' if port else ''}{parts.path or '/'}")


def own_only(opened_at: str) -> bool:
    """Whether a link to the address that the page was opened at leads, from anywhere else, to another machine or to none."""
    try:
        host = urlsplit(opened_at).hostname or ""
    except ValueError:
        return False
    return bool(host) and (looped(host) or everywhere(host))


def parts_missing(host: str, opened_at: str) -> bool:
    return (
        not host or not opened_at.startswith(("http://", "https://")) or any(c.isspace() for c in opened_at)
    )


def looped(host: str) -> bool:
    """Whether a host name or number means this machine itself."""
    if host == "localhost" or host.endswith(".localhost"):
        return True
    try:
        return ipaddress.ip_address(host.strip("[]")).is_loopback
    except ValueError:
        return False


def everywhere(host: str) -> bool:
    """Whether to listen at a host means to listen at every address of this machine; nobody can open such a host."""
    try:
        return not host or ipaddress.ip_address(host.strip("[]")).is_unspecified
    except ValueError:
        return False


def found_at(listens: str, port: int, named: Sequence[str] = (), own: str | None = None) -> str:
    """Where the page of a server can be opened, in words: on this machine, and by others; ``named`` are the names it was given."""
    host = "localhost" if everywhere(listens) else f"[{listens}]" if ":" in listens else listens
    here = f"http://{host}:{port}/"
    if named:
        return f"{here}, for others by the name{'s' if len(named) > 1 else ''} {', '.join(named)}"
    if not everywhere(listens):
        return here
    found = own_address() if own is None else own
    return f"{here}, for others in its network at http://{found}:{port}/" if found else f"{here}. {NOWHERE}"


def own_address() -> str:
    """This machine's address in the first network it is in; "" for none."""
    for far in _ASKED:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as trial:
            try:
                trial.connect((far, 9))
                found = str(trial.getsockname()[0])
            except OSError:
                continue
        if not looped(found) and found != "0.0.0.0":
            return found
    return ""


def refused(address: str, port: int) -> str:
    """Why a server cannot listen there, in one sentence; "" where it can. Port 0 takes any that is free."""
    instead = "name localhost, or 0.0.0.0 to let others in the room's network in"
    if ":" in address:
        return f"{address}: the page is served at addresses of the form 127.0.0.1 alone; {instead}."
    try:
        with socket.socket() as trial:
            trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # a port in its last wait is free
            trial.bind((address, port))
    except (OSError, OverflowError, UnicodeError) as fault:
        no_address = isinstance(fault, socket.gaierror | UnicodeError) or (
            isinstance(fault, OSError) and fault.errno == errno.EADDRNOTAVAIL
        )
        return f"{address}: is no address of this machine; {instead}." if no_address else taken(address, port)
    return ""


def taken(address: str, port: int) -> str:
    return f"port {port} on {address} is taken or not allowed; choose another with --port."
