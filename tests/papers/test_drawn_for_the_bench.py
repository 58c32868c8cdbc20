"""What is drawn for the bench: a part as it lies, its edges in words, and the squares of a label's code."""

from dataclasses import replace

import pytest
from reportlab.graphics.barcode.qrencoder import QR8bitByte, QRCode, QRErrorCorrectLevel

from estimator.papers.shop.paper import shop_paper
from estimator.papers.shop.part_drawing import lying_sides
from estimator.papers.shop.qr_code import check_bytes, dark_squares
from tests.samples import estimate_of


def test_a_part_that_lies_turned_has_its_front_at_the_right() -> None:
    """A quarter to the left: what was at the foot comes to the right, what was at the right to the top."""
    side = next(part for part in estimate_of("one-cabinet").parts if part.part == "side")
    assert lying_sides(side, turned=False) == {"front"}
    assert lying_sides(side, turned=True) == {"right"}
    all_round = replace(side, bands=tuple(replace(side.bands[0], side=name) for name in ("front", "left")))
    assert lying_sides(all_round, turned=True) == {"right", "front"}


def test_edges_in_words() -> None:
    side = next(part for part in estimate_of("one-cabinet").parts if part.part == "side")
    band, edges_in_words = side.bands[0], shop_paper(estimate_of("one-cabinet")).edges
    four = [replace(band, side=name) for name in ("front", "back", "left", "right")]
    assert edges_in_words(four) == "all round: white 0.4 mm"
    assert edges_in_words(four[:2]) == "front, back: white 0.4 mm"
    assert edges_in_words(()) == ""


def test_a_qr_code_has_the_squares_that_the_standard_asks_for() -> None:
    """ISO/IEC 18004: 21 + 4 (version - 1) squares a side, a finder of 7 x 7 in three corners, timing squares dark and light in turn.

    Version 2 at level L holds 32 bytes (table of capacities, from memory): 21 letters need it, version 1 holds 17.
    """
    squares = dark_squares("Kitchen 4 drawer side")
    size = len(squares)
    assert size == 25
    finder = ("1111111", "1000001", "1011101", "1011101", "1011101", "1000001", "1111111")
    corners = [tuple(row[at : at + 7] for row in squares[down : down + 7]) for at, down in ((0, 0), (size - 7, 0), (0, size - 7))]
    assert corners == [finder] * 3
    assert squares[6][8 : size - 8] == "101010101"


@pytest.mark.parametrize("text", ["", "1 side", "Kitchen 4 drawer side", "Küche 12 Boden ß", "x" * 53, "a" * 78, "é" * 53, "long " * 40])
def test_a_qr_code_is_the_one_that_reportlab_makes(text: str) -> None:
    """reportlab's own encoder as reference library, on sizes 1 to 5 and one beyond, which is left to it."""
    code = QRCode(None, QRErrorCorrectLevel.L)
    code.addData(QR8bitByte(text))
    code.version = code.calculate_version()
    code.makeImpl(False, 2)
    assert dark_squares(text) == tuple("".join(str(int(square)) for square in row) for row in code.modules)


def test_check_bytes_of_the_standards_own_example() -> None:
    """ISO/IEC 18004, annex I (from memory): the 16 bytes of "01234567" in numeric mode and their 10 check bytes."""
    content = bytes.fromhex("10200C566180EC11EC11EC11EC11EC11")
    assert check_bytes(content, checks=10) == bytes.fromhex("A524D4C1ED36C7872C55")
