"""The server: what it lets in, what it sends, what it tells whoever runs it."""

from tests.serving.served import Served, free_port, orchard_slate

__all__ = ["Served", "free_port", "orchard_slate"]
