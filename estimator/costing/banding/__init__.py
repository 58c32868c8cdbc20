"""Which way to band, in depth: the exact choice, what decides it, the glue day, and what it would take to choose otherwise."""
