"""Heavy work comes in turns: what is waited for first, and what a browser sends in between is answered before the next piece."""

from __future__ import annotations

import asyncio
from contextlib import contextmanager, nullcontext

import pytest

from dashboard.page.crowd.turns import EARLY, WAITED_FOR, WANTED, Turns


def run(coroutine):
    return asyncio.run(asyncio.wait_for(coroutine, 10))


def pieces(done: list[str], name: str, count: int):
    for number in range(count):
        done.append(f"{name}{number}")
        if number < count - 1:
            yield


def test_what_is_waited_for_goes_first_and_of_equals_who_came_first():
    done: list[str] = []

    async def scene():
        turns = Turns()
        async with turns.turn(lambda: WANTED):  # the others have to wait for this one
            ranks = {"early": EARLY, "asked": WANTED, "seated": WAITED_FOR, "also seated": WAITED_FOR}
            work = [
                asyncio.ensure_future(turns.work(pieces(done, name, 1), lambda rank=rank: rank, nullcontext))
                for name, rank in ranks.items()
            ]
            await asyncio.sleep(0)
        await asyncio.gather(*work)

    run(scene())
    assert done == ["seated0", "also seated0", "asked0", "early0"]


def test_who_sits_down_meanwhile_moves_up():
    done: list[str] = []

    async def scene():
        turns, seated = Turns(), []
        async with turns.turn(lambda: WANTED):
            one = asyncio.ensure_future(turns.work(pieces(done, "one", 1), lambda: EARLY, nullcontext))
            other = turns.work(pieces(done, "other", 1), lambda: WAITED_FOR if seated else EARLY, nullcontext)
            other = asyncio.ensure_future(other)
            await asyncio.sleep(0)
            seated.append(True)
        await asyncio.gather(one, other)

    run(scene())
    assert done == ["other0", "one0"]


def test_only_one_works_at_a_time_and_within_what_was_given():
    within: list[str] = []

    @contextmanager
    def place(name):
        within.append(name)
        assert len(within) == 1
        yield
        within.clear()

    async def scene():
        turns = Turns()
        await asyncio.gather(
            *(turns.work(pieces([], name, 3), lambda: WANTED, lambda name=name: place(name)) for name in "ab")
        )

    run(scene())


def test_a_message_that_comes_in_parts_is_read_and_answered_before_the_next_piece():
    """Its parts are read one after another, a round of the loop or more apart."""
    done: list[str] = []

    async def scene():
        turns = Turns()

        async def message():
            for part in range(3):
                turns.heard()
                done.append(f"part {part}")
                await asyncio.sleep(0.0005)

        def work():
            for number in range(3):
                if number == 1:
                    asyncio.get_running_loop().call_soon(
                        lambda: said.append(asyncio.ensure_future(message()))
                    )
                done.append(f"piece {number}")
                yield

        said: list = []
        await turns.work(work(), lambda: WANTED, nullcontext)
        await said[0]

    run(scene())
    assert done == ["piece 0", "piece 1", "part 0", "part 1", "part 2", "piece 2"]


def test_a_fault_in_one_piece_of_work_keeps_nobody_else_from_theirs():
    done: list[str] = []

    def broken():
        raise ZeroDivisionError
        yield

    async def scene():
        turns = Turns()
        bad = turns.work(broken(), lambda: WAITED_FOR, nullcontext)
        good = turns.work(pieces(done, "good", 2), lambda: EARLY, nullcontext)
        faults = await asyncio.gather(bad, good, return_exceptions=True)
        assert isinstance(faults[0], ZeroDivisionError)

    run(scene())
    assert done == ["good0", "good1"]


@pytest.mark.parametrize("while_working", [False, True])
def test_who_gives_up_keeps_nobody_else_waiting(while_working):
    done: list[str] = []

    async def scene():
        turns = Turns()
        holds = asyncio.Event()

        async def first():
            async with turns.turn(lambda: WANTED):
                await holds.wait()

        held = asyncio.ensure_future(first())
        await asyncio.sleep(0)
        waiting = asyncio.ensure_future(turns.work(pieces([], "x", 1), lambda: WAITED_FOR, nullcontext))
        after = asyncio.ensure_future(turns.work(pieces(done, "after", 1), lambda: EARLY, nullcontext))
        await asyncio.sleep(0)
        (held if while_working else waiting).cancel()
        holds.set()
        await after

    run(scene())
    assert done == ["after0"]
