"""An answer's parts as a reader sees them, text only: ``figures``, ``facts`` of one cultivar, its ``account`` with a market."""
