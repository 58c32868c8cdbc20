"""Shelves and their sag: span, thickness and stiffness in, millimetres of sag and the limit out."""

from estimator.model.exact import Fraction

SHELF_LOAD_N_MM2 = Fraction(718, 1_000_000)
"""Uniform load on a shelf, 718 Pa (ansi-kcma-a161.1, as reported)."""
CREEP = Fraction(3, 2)
"""Board goes on sagging under load: half as much again (common practice)."""


def shelf_sag_mm(*, span_mm: Fraction, thickness_mm: Fraction, e_modulus_n_mm2: Fraction) -> Fraction:
    """How far a shelf sags in the middle at once under a uniform load, in mm; with time it becomes CREEP times as much.

        sag  =  5 w L^4 / (384 E I),   w = load x depth,  I = depth x thickness^3 / 12   (the depth falls out)

    By hand: 18 mm board, E 1600 N/mm2, 564 mm between its supports: 1.22 mm.

    >>> sag = shelf_sag_mm(span_mm=Fraction(564), thickness_mm=Fraction(18), e_modulus_n_mm2=Fraction(1600))
    >>> Fraction("1.215") < sag < Fraction("1.225")
    True

    Holds for: a shelf on two supports, loaded evenly.
    Error: E of a board varies by a fifth and more.
    Source: wood-handbook, table 9-1; ansi-kcma-a161.1 for the load.
    """
    return 5 * SHELF_LOAD_N_MM2 * span_mm**4 * 12 / (384 * e_modulus_n_mm2 * thickness_mm**3)


def sag_limit_mm(*, span_mm: Fraction) -> Fraction:
    """The most that a shelf may sag: 1.6 mm on each 305 mm of span, and 6.4 mm in all.

    By hand: a span of 564 mm may sag 2.96 mm.

    >>> sag_limit_mm(span_mm=Fraction(610))
    Fraction(16, 5)

    Source: ansi-kcma-a161.1.
    """
    return min(Fraction("1.6") * span_mm / 305, Fraction("6.4"))
