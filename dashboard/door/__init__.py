"""Who is let in, and what every answer carries. What it stops and what it does not: docs/threats.md."""

from dashboard.door.guarded import Guarded, refuse_packed
from dashboard.door.hosts import Hosts
from dashboard.door.keeping import Kept

__all__ = ["Guarded", "Hosts", "Kept", "refuse_packed"]
