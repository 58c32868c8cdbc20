"""What can be wrong, and where: a place in a workbook, a problem of theirs, a remark, a fault of ours."""

from collections.abc import Mapping

from estimator.model.dataclass import dataclass
from estimator.model.exact import Fraction


@dataclass(frozen=True, slots=True, order=True)
class Place:
    """A cell that a person can go to: `north-street.xlsx > Cabinets > E7`. Sheet and cell may be blank."""

    workbook: str
    sheet: str = ""
    cell: str = ""

    def __str__(self) -> str:
        return " > ".join(part for part in (self.workbook, self.sheet, self.cell) if part)


@dataclass(frozen=True, slots=True)
class Row:
    """Where a record stands: its row, and the letter of each column by header. It turns a header into a Place."""

    workbook: str
    sheet: str
    number: int
    letters: Mapping[str, str]

    def place(self, header: str) -> Place:
        letter = self.letters.get(header)
        return Place(self.workbook, self.sheet, f"{letter}{self.number}" if letter else f"row {self.number}")


@dataclass(frozen=True, slots=True)
class Items:
    """Where the items of a name-and-value sheet stand; an item that is in no sheet points at the sheet itself."""

    workbook: str
    sheet: str
    cells: Mapping[str, Place]

    def place(self, item: str) -> Place:
        return self.cells.get(item, Place(self.workbook, self.sheet, item))


@dataclass(frozen=True, slots=True)
class Problem:
    """Something the shop must mend before the job can be priced."""

    place: Place
    found: str
    expected: str
    mend: str

    def __str__(self) -> str:
        return f"{self.place}\n    found     {self.found}\n    expected  {self.expected}\n    to mend   {self.mend}"


@dataclass(frozen=True, slots=True)
class Alike:
    """How a remark of which a job may have many is told together with the others of its kind (`gathering.py`)."""

    name: str
    """Whom it concerns."""
    weight: Fraction
    """How bad it is: the worst is told with its figures."""
    own: str
    """The figures of this one."""
    together: str
    """The sentence for all of them, with {names} (or {refs}, the room said once) and {worst} in it."""


@dataclass(frozen=True, slots=True)
class Remark:
    """Something worth a look; the quote can still go out."""

    place: Place
    words: str
    alike: Alike | None = None

    def __str__(self) -> str:
        return f"{self.place}: {self.words}"


class Fault(Exception):
    """Our own mistake: an answer that breaks a law. It prints no paper."""
