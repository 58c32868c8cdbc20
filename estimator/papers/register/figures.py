"""The figures that a job and a sum of jobs share: money and metres in, what is left, its share of the price, all metres out."""

from __future__ import annotations

from typing import Protocol

from estimator.model.exact import Fraction


class Figures(Protocol):
    """A job, or several of one currency."""

    @property
    def net(self) -> Fraction: ...
    @property
    def cost(self) -> Fraction: ...
    @property
    def by_hand_m(self) -> Fraction: ...
    @property
    def sent_out_m(self) -> Fraction: ...


def left(some: Figures) -> Fraction:
    """What is left of the price before tax when every cost is paid."""
    return some.net - some.cost


def margin_share(some: Figures) -> Fraction | None:
    """That as a share of the price; None where there is no price."""
    return left(some) / some.net if some.net else None


def metres(some: Figures) -> Fraction:
    """Net metres of edges, wherever they are banded."""
    return some.by_hand_m + some.sent_out_m
