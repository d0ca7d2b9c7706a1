"""One thread for linear algebra while a model is fitted.

The matrices are small: on a busy machine a second thread costs more in waiting than it saves in work.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, wraps
from typing import ParamSpec, TypeVar

from threadpoolctl import ThreadpoolController

P = ParamSpec("P")
T = TypeVar("T")


@cache
def _controller() -> ThreadpoolController:
    return ThreadpoolController()


def one_thread(work: Callable[P, T]) -> Callable[P, T]:
    """The same function, run with the linear algebra libraries held to one thread."""

    @wraps(work)
    def held(*args: P.args, **kwargs: P.kwargs) -> T:
        with _controller().limit(limits=1, user_api="blas"):
            return work(*args, **kwargs)

    return held
