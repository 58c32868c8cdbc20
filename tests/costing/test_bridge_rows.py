"""Which row of one job is which of the other: a number that the program gave may move, what a row says does not."""

from dataclasses import replace

from estimator.costing.bridge_rows import slots_of
from tests.samples import sample


def test_a_loose_part_whose_number_moved_behind_a_new_cabinet_is_the_same_part() -> None:
    """Numbers of a room run on from the cabinets to the loose parts: with one cabinet more, Kitchen 3 becomes Kitchen 4."""
    part = sample("one-cabinet").cabinets[0]
    before, after = replace(part, ref="Kitchen 3"), replace(part, ref="Kitchen 4")
    other = replace(part, ref="Pantry 1", width_mm=part.width_mm + 1)
    slots = slots_of((before, other), (after, other), field="loose_parts")
    assert [(slot.old, slot.new) for slot in slots] == [(before, after), (other, other)]


def test_two_rows_that_swapped_what_they_say_keep_their_refs() -> None:
    one = sample("one-cabinet").cabinets[0]
    left, right = replace(one, ref="Kitchen 1"), replace(one, ref="Kitchen 2", width_mm=one.width_mm + 1)
    new_left, new_right = replace(right, ref="Kitchen 1"), replace(left, ref="Kitchen 2")
    slots = slots_of((left, right), (new_left, new_right), field="cabinets")
    assert [(slot.old, slot.new) for slot in slots] == [(left, new_left), (right, new_right)]
