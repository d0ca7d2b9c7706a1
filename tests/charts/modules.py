"""A drawn code read back into its modules: the dark ones are strokes one module high, from left to right."""

from __future__ import annotations

import re


def modules(svg: str) -> list[list[bool]]:
    side = int(re.search(r'viewBox="0 0 (\d+) \1"', svg)[1])
    rows = [[False] * side for _ in range(side)]
    way = re.search(r'<path[^>]*stroke="#000"[^>]* d="([^"]+)"|<path[^>]* d="([^"]+)"[^>]*stroke="#000"', svg)
    x = y = 0.0
    for command, numbers in re.findall(r"([Mmh])([-\d. ,]+)", way[1] or way[2]):
        values = [float(number) for number in re.findall(r"-?\d*\.?\d+", numbers)]
        if command == "M":
            x, y = values
        elif command == "m":
            x, y = x + values[0], y + values[1]
        else:
            for at in range(int(x), int(x + values[0])):
                rows[int(y)][at] = True
            x += values[0]
    return rows
