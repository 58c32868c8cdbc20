"""What is worth a look though the quote can go out: an Estimate in, remarks with their places out."""

from collections.abc import Callable, Iterator
from datetime import date
from functools import partial

from estimator.costing.price_remarks import (
    deposit_over_cap,
    least_price_kept,
    percent,
    rounded_too_far,
    shares_typed_as_money,
    sold_at_a_loss,
    target_on_no_line,
)
from estimator.costing.roll_ends import roll_remarks
from estimator.costing.routes import words_of
from estimator.costing.sag import CREEP, sag_limit_mm, shelf_sag_mm
from estimator.model.exact import Fraction
from estimator.model.problems import Alike, Place, Remark
from estimator.model.results import Estimate
from estimator.model.units import length_words, money_text

OPEN_TIME_WARNING = Fraction(3, 4)
RIGID_BAND_MM = 2
SAG_CURE = "a partition, a thicker board or a lipping helps"
SAG_TOGETHER = f"shelves of {{refs}} sag in time when fully loaded, the worst that of {{worst}}: {SAG_CURE}"
OLD_TOGETHER = (
    "the prices of {names} were old on the quote date, the oldest that of {worst}: ask for them anew, and type the day under Priced on"
)


def remarks_on(estimate: Estimate) -> tuple[Remark, ...]:
    """Every remark of the engine, in the order of the sheets that they concern."""
    return tuple(remark for rule in RULES for remark in rule(estimate))


def untimed_work(estimate: Estimate) -> Iterator[Remark]:
    share = estimate.risk.untimed_minutes_share
    if share:
        steps = [step for step in estimate.minutes.steps if step.minutes and not step.step.timed]
        place = steps[0].step.at.place("Timed") if steps else Place(estimate.job.workbook, "Work")
        words = "of the minutes rest on steps that nobody in this shop has timed: time them, and write yes under Timed"
        yield Remark(place, f"{percent(share)} {words}")


def not_the_best_way(estimate: Estimate) -> Iterator[Remark]:
    best, chosen = estimate.banding.best, estimate.banding.chosen
    if chosen.relevant_cost is not None and best.relevant_cost is not None and chosen.relevant_cost > best.relevant_cost:
        dearer = money_text(chosen.relevant_cost - best.relevant_cost, currency=estimate.job.terms.currency)
        yield Remark(
            estimate.job.terms.at.place("Banding"),
            f"banding as chosen ({words_of(chosen)}) costs {dearer} more than the best way ({words_of(best)}); write best to have that",
        )


def banding_not_used(estimate: Estimate) -> Iterator[Remark]:
    asked = estimate.job.terms.banding
    if asked.casefold() in ("", "best", "by hand", "send out"):
        return
    used = {use.edging.casefold() for use in estimate.edgings}
    for name in (one.strip() for one in asked.split(",")):
        if name and name.casefold() not in used:
            words = f"{name} is to be sent, but this job does not use it: look at its name, or take it out"
            yield Remark(estimate.job.terms.at.place("Banding"), words)


def old_prices(estimate: Estimate) -> Iterator[Remark]:
    job = estimate.job
    used = {use.board for use in estimate.boards}
    banded = [width.edging for use in estimate.edgings for width in use.widths]
    dated: list[tuple[Place, str, date | None]] = [
        (row.at.place("Priced on"), row.board, row.priced_on) for row in job.boards if row.board in used
    ]
    dated += [(row.at.place("Priced on"), row.edging, row.priced_on) for row in banded]
    dated += [
        (use.adhesive.at.place("Priced on"), use.adhesive.adhesive, use.adhesive.priced_on) for use in estimate.banding.adhesives
    ]
    dated += [
        (use.fitting.at.place("Priced on"), use.fitting.item, use.fitting.priced_on) for use in estimate.fittings if use.number
    ]
    dated += [
        (row.at.place("Priced on"), f"{row.board or 'every other board'} at the board merchant", row.priced_on)
        for row in job.merchant
        if not row.board or row.board in used
    ]
    for place, name, priced_on in dated:
        days = (job.terms.quote_date - priced_on).days if priced_on else 0
        if days > job.shop.prices_stale_after_days:
            age = f"was {days} days old on the quote date: ask for it anew, and type the day under Priced on"
            yield Remark(place, f"the price of {name} {age}", Alike(name, Fraction(days), f"{days} days", OLD_TOGETHER))


def near_the_open_time(estimate: Estimate) -> Iterator[Remark]:
    glues = {row.adhesive: row for row in estimate.job.adhesives}
    worst: dict[str, Fraction] = {}
    for batch in estimate.batches:
        if batch.open_used_share is not None:
            worst[batch.edging] = max(worst.get(batch.edging, Fraction(0)), batch.open_used_share)
    for use in estimate.edgings:
        glue = glues.get(use.widths[0].edging.adhesive)
        if glue and worst.get(use.edging, Fraction(0)) > OPEN_TIME_WARNING:
            yield Remark(
                glue.at.place("Open time"),
                f"a batch of {use.edging} uses {percent(worst[use.edging])} of the open time of {glue.adhesive}: "
                "keep the batches smaller (Shop > Edges in a batch)",
            )


def rigid_bands(estimate: Estimate) -> Iterator[Remark]:
    for use in estimate.edgings:
        row = use.widths[0].edging
        thick = length_words(row.thickness_mm, units=estimate.job.terms.units, finest=32, places=3)
        if use.edging not in estimate.banding.chosen.sent and row.adhesive and row.thickness_mm >= RIGID_BAND_MM:
            yield Remark(
                row.at.place("By hand"),
                f"{use.edging} is {thick} thick: so rigid a band seldom holds "
                "with contact adhesive by hand (common practice): send it out, or type no here",
            )


def sagging_shelves(estimate: Estimate) -> Iterator[Remark]:
    terms = estimate.job.terms
    shown = partial(length_words, units=terms.units, finest=int(terms.show_fractions))
    boards = {row.board: row for row in estimate.job.boards}
    for part in estimate.parts:
        modulus = boards[part.board].e_modulus_n_mm2
        if part.counts_as != "shelf" or modulus is None:
            continue
        sag = CREEP * shelf_sag_mm(span_mm=part.length_mm, thickness_mm=part.thickness_mm, e_modulus_n_mm2=modulus)
        limit = sag_limit_mm(span_mm=part.length_mm)
        if sag > limit:
            span = f"{shown(part.length_mm, places=0)} of {part.board}"
            about = f"about {shown(sag)}" if shown(sag) != shown(limit) else "a little more"
            yield Remark(
                part.owner.at.place("Ref"),
                f"{part.part} of {part.ref}, {span}, sags {about} in time when fully loaded (limit {shown(limit)}): {SAG_CURE}",
                Alike(part.ref, sag / limit, f"{span}, {about} (limit {shown(limit)})", SAG_TOGETHER),
            )


def counts_without_parts(estimate: Estimate) -> Iterator[Remark]:
    """Doors, drawers or shelves of a cabinet whose kind makes none."""
    made = {(id(part.owner), part.counts_as) for part in estimate.parts}
    for cabinet in estimate.job.cabinets:
        counts = (("Doors", "door", cabinet.doors), ("Drawers", "drawer", cabinet.drawers), ("Shelves", "shelf", cabinet.shelves))
        for header, counts_as, number in counts:
            if number and (id(cabinet), counts_as) not in made:
                yield Remark(
                    cabinet.at.place(header),
                    f"{cabinet.ref} has {number} under {header}, but no part of the kind {cabinet.kind} counts as a {counts_as}: "
                    "none is made, drawn or priced. Clear the cell, or give that kind such a part in Construction",
                )


def fronts_over_the_box(estimate: Estimate) -> Iterator[Remark]:
    """Typed heights of drawer fronts that are more together than the box is high: one of them is a slip, most likely."""
    terms = estimate.job.terms
    shown = partial(length_words, units=terms.units, finest=int(terms.show_fractions))
    for cabinet in estimate.job.cabinets:
        together = sum(cabinet.front_heights_mm, start=Fraction(0))
        if together > cabinet.height_mm:
            yield Remark(
                cabinet.at.place("Front heights"),
                f"the drawer fronts of {cabinet.ref} are {shown(together)} high together, and its box only {shown(cabinet.height_mm)}: "
                "look at each of the heights",
            )


def strips_and_rolls(estimate: Estimate) -> Iterator[Remark]:
    yield from roll_remarks(estimate.rolls, units=estimate.job.terms.units)


RULES: tuple[Callable[[Estimate], Iterator[Remark]], ...] = (
    not_the_best_way,
    banding_not_used,
    deposit_over_cap,
    shares_typed_as_money,
    least_price_kept,
    rounded_too_far,
    sold_at_a_loss,
    target_on_no_line,
    counts_without_parts,
    fronts_over_the_box,
    sagging_shelves,
    old_prices,
    near_the_open_time,
    rigid_bands,
    strips_and_rolls,
    untimed_work,
)
