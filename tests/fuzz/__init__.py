"""Whatever bytes may be handed to a reader: it answers in sentences, and never fails."""
