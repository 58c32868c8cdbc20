"""Benchmarks: each prints its figures beside what they are compared with, in the same run. Nothing here is a test."""
