"""A reading that never ends: in a file of its own, because the process beside the server loads what it is to do."""

import time


def endless(*_: object) -> None:
    time.sleep(600)
