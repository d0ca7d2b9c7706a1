"""The store, on both databases: what comes in, what leaves, what is taken back, and what a kill leaves."""
