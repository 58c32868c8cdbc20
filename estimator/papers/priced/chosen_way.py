"""The way that stands in the yellow cell, found among the ways of the job, and among those of each option."""

from __future__ import annotations

from collections.abc import Mapping

from estimator.model.exact import Fraction
from estimator.papers.priced.terms import Term, term
from estimator.papers.priced.ways_counts_sheet import CountTerms
from estimator.papers.priced.ways_sheet import NUMBER, POSSIBLE, WAY, Choosing, WayTerms


def chosen_by(choice: str, asked: str) -> Choosing:
    """The way whose words stand in the choice cell; the best where none does, or where that way is not possible."""

    def picked(ways: WayTerms, _: CountTerms) -> Term:
        numbers = ways.span(NUMBER)
        found = f"SUMPRODUCT(({ways.span(WAY)}={choice})*({ways.span(POSSIBLE)}=1)*{numbers})"
        value = Fraction(ways.words.index(asked) + 1) if asked in ways.words else ways.best.value
        return Term(f"IF({found}=0,{ways.best.words},{found})", value)

    return picked


def chosen_like(job: WayTerms, sent: Mapping[str, Term], *, choice: str, asked: str) -> Choosing:
    """The way of an option: what the job itself sends is sent, the rest is done by hand; its own best where best is asked for.

    An edging that only the option uses is sent when all are. Where that way is not possible, or not listed, its best is taken.
    """

    def picked(ways: WayTerms, counts: CountTerms) -> Term:
        numbers, possible = ways.span(NUMBER), ways.span(POSSIBLE)
        wanted = [sent.get(name, term(0)) for name in counts.edgings]
        alike = "".join(f"*({counts.sent.down(i).words}={one.words})" for i, one in enumerate(wanted))
        count = len(ways.words)
        everything = f"SUMPRODUCT(({ways.span(WAY)}=\"send out\")*({possible}=1)*{numbers})"
        found = f'IF({choice}="send out",{everything},SUMPRODUCT(({possible}=1)*{numbers}{alike}))'
        words = f"IF(SUMPRODUCT(({job.span(WAY)}={choice})*1)=0,{ways.best.words},IF({found}=0,{ways.best.words},{found}))"
        if asked not in job.words:
            return Term(words, ways.best.value)
        flags = tuple(one.value for one in wanted)
        ways_alike = [i for i in range(count) if ways.keys[i] is not None and counts.sent.rows[i] == flags]
        if asked == "send out":
            ways_alike = [i for i in range(count) if ways.keys[i] is not None and ways.words[i] == "send out"]
        return Term(words, Fraction(ways_alike[0] + 1) if ways_alike else ways.best.value)

    return picked
