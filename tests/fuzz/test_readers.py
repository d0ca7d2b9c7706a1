"""Sound files with a few bytes changed, the same ones in each run; ``python -m tests.fuzz`` goes on for longer."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.fuzz.readers import READERS

# What has a meaning to one of the readers.
TOKENS = (
    b"", b",", b";", b"\t", b'"', b'""', b"\n", b"\r", b"\0", b"'", b"=", b"-", b"1e999", b"9" * 400, b"nan", b"\xef\xbb\xbf", b"\xff",
    "\u202e\u2028½１٣".encode(), b"2024-02-30", b"<", b">", b"&#0;", b"&x;", b"<!DOCTYPE a>", b"]]>", b"<c r='XFD1048576'><v>1</v></c>",
    b"{", b"[", b"[[", b"]", b"}", b"null", b"true", b'"\\ud800"', b".", b"a.b", b"&", b"%", b"%00", b"%ff", b"+", b"v=", b"?",
)  # fmt: skip


def changed(sound: bytes, changes: list[tuple[float, int, bytes]]) -> bytes:
    """Bytes put in at places (shares of the length), each over so many of those that stood there."""
    for place, over, token in changes:
        at = int(place * len(sound))
        sound = sound[:at] + token + sound[at + over :]
    return sound


changes = st.lists(
    st.tuples(
        st.floats(0, 1),
        st.sampled_from((0, 0, 1, 2, 10, 100)),
        st.sampled_from(TOKENS) | st.binary(max_size=3),
    ),
    min_size=1,
    max_size=6,
)


@pytest.mark.parametrize("reader", READERS)
def test_a_changed_file_is_answered_in_sentences(reader):
    act, sound = READERS[reader]
    files = sound()

    @settings(
        derandomize=True,
        max_examples=80,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    @given(st.integers(0, len(files) - 1), changes)
    def answered(which, how):
        act(changed(files[which], how))

    answered()


@pytest.mark.parametrize("reader", READERS)
def test_a_sound_file_is_read(reader):
    act, sound = READERS[reader]
    for content in sound():
        act(content)
