"""How many trees of which cultivar: the order that fills a buyer's weeks at the least cost, and how sure that is.

Read ``task`` (what has to be kept), ``relaxed`` (the bound), ``exchanging`` and ``rebuilding`` (cheaper whole bundles), ``asked`` and ``sparing`` (whether any order costs
less), ``whole`` (all of it in turn), ``priced`` (over all seasons), ``easing`` (where none keeps all), ``bearing`` (what a tree gives).
"""

from dashboard.order.task import FILL, WORST, Promises, Task
from dashboard.order.whole import GAP, SECONDS, Ordered, ordering

__all__ = ["FILL", "GAP", "SECONDS", "WORST", "Ordered", "Promises", "Task", "ordering"]
