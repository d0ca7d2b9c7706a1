"""What a buyer wants: limits that must hold and wishes that are weighed, and what it says of each cultivar."""

from dashboard.market.desirability import desirability, overall
from dashboard.market.dominance import Contest, not_beaten
from dashboard.market.fitting import fit, neutral
from dashboard.market.naming import market_called, spellings
from dashboard.market.profile import Limit, Market, MarketError, Wish
from dashboard.market.reading import read_market, read_markets
from dashboard.market.reasons import reason, reasons
from dashboard.market.verdict import judged

__all__ = [
    "Contest",
    "Limit",
    "Market",
    "MarketError",
    "Wish",
    "desirability",
    "fit",
    "judged",
    "market_called",
    "neutral",
    "not_beaten",
    "overall",
    "read_market",
    "read_markets",
    "reason",
    "reasons",
    "spellings",
]
