"""What is said beside every figure that leaves the page, and on it: how far it holds, and whom to ask."""

CAUTIONS = (
    "Trial results hold for the sites and seasons they come from.",
    "Chill figures are estimates, not insurance.",
    "You need a license to propagate a protected cultivar.",
    "Your local extension service, plant-health rules and licensed advisers come first.",
)
PROTECTED = "Protected: you need its owner’s license to propagate it."
LICENSED = (
    "is protected, so propagate it only with a license",
    "are protected, so propagate them only with a license",
)  # of a list
USUAL = "Usual days are those of an ordinary year; early and late years move them by about {}."
MOVES = "Seasons move all dates together, often by one to three weeks: days from the check carry over better than dates."
RELIABILITY = "Reliability is 0 where its samples tell nothing yet and 1 where they tell all"


def averages_decide(refused: str, market: str = "this market") -> str:
    return f"Chances cannot be given for {market}, so its averages decide: {refused}"
