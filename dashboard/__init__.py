"""From trial records to a shortlist of peach and nectarine cultivars.

The package is read in the order below; a file imports only from files above it.
``tests/test_layers.py`` reads the order from here.
"""

LAYERS = (
    "units",  # exact factors between what people write and what we compute with
    "traits",  # what is measured, and which way is better
    "glossary",  # what the words of the trade and of the page mean
    "places",  # where the demo data, the pages and the market profiles lie
    "records",  # what was written down: files, checked tables, sample summaries
    "mixed",  # linear mixed models by REML: fair values out of unbalanced records
    "estimates",  # what a cultivar is worth, and how sure we are
    "ripening",  # when it is picked
    "season",  # how well a set covers a season, and its gaps
    "market",  # what a buyer wants: limits and wishes, and who is not beaten
    "catalogue",  # all of it, worked out once per data version and shared
    "dossier",  # everything known about one cultivar
    "beside",  # a few cultivars side by side, and what really differs
    "filters",  # who passes what was ticked
    "covering",  # how well a set covers the season asked for
    "weeks",  # each class of fruit by week
    "prospects",  # what a market may expect of them
    "standing",  # what a market says of each of them
    "accounts",  # one cultivar's account with a market
    "standins",  # who could stand in for one of them
    "ranking",  # in which order they stand
    "spotlight",  # the one that is spoken of
    "comparison",  # one question and its answer
    "words",  # an answer's parts as a reader sees them
    "facts",  # what is recorded of one cultivar, as a reader sees it
    "reckoning",  # its account with a market, as a reader sees it
    # ---- below this line a screen may be known ----
    "address",  # a question written into a link, and read back
    "reach",  # where a phone in the room finds the page
    "prepared",  # views by name, in a file
    "steps",  # which addresses were left behind
    "state",  # one visitor's choices
    "style",  # marks, colours, number formats
    "charts",  # answers drawn
    "handout",  # answers that leave the building
    "views",  # the parts of the page
    "slate",  # the page as one file that needs no server
    "ahead",  # a document written before it is asked for
    "crowd",  # many visitors at once in one process
    "app",  # the page
    "operating",  # what whoever runs the server sees of it
    "door",  # who is let in, and what every answer carries
    "serving",  # the server under it
    "cli",  # the command
)

# Layers above the line know no screen; these are the libraries they may use.
SCREENLESS = (
    "units",
    "traits",
    "glossary",
    "places",
    "records",
    "mixed",
    "estimates",
    "ripening",
    "season",
    "market",
    "catalogue",
    "dossier",
    "beside",
    "filters",
    "covering",
    "weeks",
    "prospects",
    "standing",
    "accounts",
    "standins",
    "ranking",
    "spotlight",
    "comparison",
    "words",
    "facts",
    "reckoning",
)
