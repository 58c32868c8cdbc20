"""The second room: a Job in, an Estimate out, by pure functions of exact fractions; no file, no clock, no chance."""
