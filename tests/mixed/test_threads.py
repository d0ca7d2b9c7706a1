"""Linear algebra is held to one thread inside, and left as it was outside."""

from __future__ import annotations

from threadpoolctl import threadpool_info

from dashboard.mixed.threads import one_thread


def _threads() -> list[int]:
    return [pool["num_threads"] for pool in threadpool_info() if pool["user_api"] == "blas"]


def test_one_thread_inside_and_the_rest_back_afterwards():
    before = _threads()
    inside = one_thread(_threads)()
    assert inside
    assert set(inside) == {1}
    assert _threads() == before


def test_the_function_keeps_its_name_and_answer():
    @one_thread
    def answer(value: int) -> int:
        return value + 1

    assert answer(1) == 2
    assert answer.__name__ == "answer"
