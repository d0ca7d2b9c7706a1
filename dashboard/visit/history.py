"""The steps of one visitor: which addresses were left behind, so that a choice can be taken back and made again."""

from __future__ import annotations

MOST = 100


class Steps:
    """``here`` is the address that stands; ``back`` and ``on`` give the one to go to, or None where there is none."""

    def __init__(self, here: str) -> None:
        self.here = here
        self._past: list[str] = []
        self._undone: list[str] = []

    @property
    def behind(self) -> int:
        return len(self._past)

    @property
    def ahead(self) -> int:
        return len(self._undone)

    def went(self, address: str) -> None:
        """A choice was made: what had been taken back is forgotten."""
        if address == self.here:
            return
        self._past = [*self._past, self.here][-MOST:]
        self._undone = []
        self.here = address

    def moved(self, address: str) -> None:
        """The same choices, looked at from elsewhere: no step, and none is forgotten."""
        self.here = address

    def back(self) -> str | None:
        if not self._past:
            return None
        self._undone.append(self.here)
        self.here = self._past.pop()
        return self.here

    def on(self) -> str | None:
        if not self._undone:
            return None
        self._past.append(self.here)
        self.here = self._undone.pop()
        return self.here
