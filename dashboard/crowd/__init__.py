"""Many visitors at once in one process: heavy work in turns, closed pages let go, the same thing not made twice."""
