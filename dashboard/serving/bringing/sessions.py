"""Who is logged in, and who has to wait because of wrong passwords. Kept in memory alone: after a restart everybody logs in anew."""

from __future__ import annotations

import hashlib
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from secrets import token_urlsafe

from dashboard.serving.bringing.password import Password

IDLE_S, LONGEST_S = 4 * 3600, 12 * 3600  # a session ends when nothing was done, and after a day's work
MOST = 200  # sessions
WINDOW_S, MOST_HERE, MOST_TRIES = (
    900,
    5,
    50,
)  # wrong passwords in a quarter of an hour, from one address and in all
LONGEST_NAME = 60
WRONG = "That is not the password."
NAMELESS = "Write your name, too; it stands beside what you bring in."


class RefusedError(Exception):
    """Why somebody is not let in, in one sentence. ``status`` of the answer, ``seconds`` until a try may be made again."""

    def __init__(self, said: str, status: int, seconds: int = 0) -> None:
        super().__init__(said)
        self.status, self.seconds = status, seconds


@dataclass
class _Session:
    who: str
    began: float
    last: float
    password: str  # its hash when the session began


class Sessions:
    """Known by the hash of a token that only the browser has. May be asked from several threads."""

    def __init__(self, password: Password, clock: Callable[[], float] = time.monotonic) -> None:
        self.password, self._clock = password, clock
        self._sessions: dict[str, _Session] = {}
        self._tries: list[tuple[float, str]] = []  # when, and from where
        self._lock, self._one = threading.Lock(), threading.Lock()

    def log_in(self, who: str, said: str, address: str) -> str:
        """The token of a new session. RefusedError. Waits a tenth of a second: not to be called where others wait."""
        who = "".join(letter for letter in " ".join(who.split()) if letter.isprintable())[:LONGEST_NAME]
        if not who:
            raise RefusedError(NAMELESS, 400)
        now = self._clock()
        with self._lock:  # counted before it is looked at, so that many at once are no way around
            self._refuse_many(address, now)
            mine = (now, address)
            self._tries.append(mine)
        with self._one:  # one at a time: each takes 64 MB
            right = self.password.is_right(said)
        if not right:
            raise RefusedError(WRONG, 401)
        token = token_urlsafe(32)
        with self._lock:
            self._tries.remove(mine)
            self._end_old(now)
            if len(self._sessions) >= MOST:
                del self._sessions[min(self._sessions, key=lambda one: self._sessions[one].last)]
            self._sessions[_hashed(token)] = _Session(who, now, now, self.password.hash)
        return token

    def who(self, token: str | None) -> str:
        """The name of whoever has the token; "" where nobody has, or the session has ended."""
        if not token:
            return ""
        now = self._clock()
        with self._lock:
            self._end_old(now)
            found = self._sessions.get(_hashed(token))
            if found is None or found.password != self.password.hash:
                return ""
            found.last = now
            return found.who

    def log_out(self, token: str | None) -> None:
        with self._lock:
            self._sessions.pop(_hashed(token or ""), None)

    def _refuse_many(self, address: str, now: float) -> None:
        self._tries = [one for one in self._tries if now - one[0] < WINDOW_S]
        here = [when for when, where in self._tries if where == address]
        if len(here) < MOST_HERE and len(self._tries) < MOST_TRIES:
            return
        first = here[0] if len(here) >= MOST_HERE else self._tries[0][0]
        seconds = max(1, int(WINDOW_S - (now - first)) + 1)
        minutes = -(-seconds // 60)
        raise RefusedError(f"Too many wrong passwords; try again in {minutes} {'minute' if minutes == 1 else 'minutes'}.", 429, seconds)  # fmt: skip

    def _end_old(self, now: float) -> None:
        for token, one in list(self._sessions.items()):
            if now - one.last > IDLE_S or now - one.began > LONGEST_S:
                del self._sessions[token]


def _hashed(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
