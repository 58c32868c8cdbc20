"""The third room: an Estimate in, papers out. A paper prints what the estimate holds and computes nothing of its own."""
