"""Work beside other work gives the same bytes and the same errors as work done here."""

import os
import time

import pytest

from estimator.beside import beside


def test_the_bytes_of_another_core_are_the_bytes_of_this_one():
    large = bytes(range(256)) * 40_000  # more than a pipe holds at once
    with beside(lambda: large + str(os.getpid()).encode()) as fetched:
        answer = fetched()
    assert answer.startswith(large)


def test_an_error_beside_is_an_error_here():
    def broken() -> bytes:
        raise ValueError("no such page")

    with beside(broken) as fetched, pytest.raises(ValueError, match="no such page"):
        fetched()


def test_a_copy_that_is_ended_from_outside_costs_only_time():
    here = os.getpid()

    def ended_elsewhere() -> bytes:
        if os.getpid() != here:
            os.kill(os.getpid(), 9)
        return b"drawn here"

    with beside(ended_elsewhere) as fetched:
        assert fetched() == b"drawn here"


def test_what_nobody_fetches_is_ended():
    def long() -> bytes:
        time.sleep(60)
        return b""

    start = time.perf_counter()
    with pytest.raises(KeyError), beside(long):
        raise KeyError("the other papers went wrong")
    assert time.perf_counter() - start < 30
    if hasattr(os, "waitpid"):
        with pytest.raises(ChildProcessError):
            os.waitpid(-1, 0)
