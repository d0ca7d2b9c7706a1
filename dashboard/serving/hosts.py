"""The names a page may be asked for by.

A stranger can point a name of his own at this machine. A browser then takes his page and this server for one site, and his
page may read everything here. Only a name he does not own keeps the two apart, so every other name is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fnmatch import fnmatchcase

from dashboard.visit.network_address import looped

EVERYWHERE = ("0.0.0.0", "::", "")  # listening at every address this machine has
_NAMED = re.compile(r"[a-z0-9._*-]+(:\d{1,5}|:\*)?")
_NAME = re.compile(r"[a-z0-9._-]{1,100}|[0-9a-f:.]{2,45}")


@dataclass(frozen=True)
class Hosts:
    """``address``: where the server listens. ``named``: further names, with or without a port; ``*`` stands for any text."""

    address: str = "localhost"
    named: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        for one in self.named:
            if not _NAMED.fullmatch(one.lower()):
                raise ValueError(
                    f"--origin {one}: is not a host as visitors type it; write trials.example, or trials.example:8443 with its port."
                )

    def admits(self, host: str, arrived: str = "") -> bool:
        """Whether the page may be asked for as ``host``, without a port; ``arrived`` is this machine's address that was called."""
        name = host.lower().strip("[]")
        if looped(name) or any(fnmatchcase(name, _without_port(one)) for one in self.named):
            return True
        if self.address in EVERYWHERE:  # an address is nobody's to point elsewhere
            return not self.named and name != "" and name == arrived.partition("%")[0]
        return name == self.address.lower()

    def refusal(self, host: str) -> str:
        """One sentence for whoever came by a name that is not admitted."""
        name = host.lower().strip("[]")
        if not _NAME.fullmatch(name):
            return "This server is not known by that name."
        return (
            f"This server does not go by the name {name}. Open it by this machine's own address, "
            f"or have it started with --origin {name}."
        )


def _without_port(named: str) -> str:
    return named.lower().partition(":")[0]
