"""The house's records behave as the standard library's dataclasses do: fields, copies, equality, hashes, text, patterns."""

import dataclasses
import pickle

import pytest

from estimator.model.dataclass import dataclass


@dataclass(frozen=True, slots=True)
class Ours:
    width_mm: int
    names: tuple[str, ...] = ()
    notes: list[str] = dataclasses.field(default_factory=list, repr=False)


@dataclasses.dataclass(frozen=True, slots=True)
class Theirs:
    width_mm: int
    names: tuple[str, ...] = ()
    notes: list[str] = dataclasses.field(default_factory=list, repr=False)


def test_fields_defaults_copies_and_text_are_the_standard_ones():
    assert [field.name for field in dataclasses.fields(Ours)] == [field.name for field in dataclasses.fields(Theirs)]
    assert dataclasses.is_dataclass(Ours)
    assert repr(Ours(600, ("side",))) == repr(Theirs(600, ("side",))).replace("Theirs", "Ours")
    assert dataclasses.replace(Ours(600), width_mm=450) == Ours(450)
    assert dataclasses.astuple(Ours(600)) == dataclasses.astuple(Theirs(600))
    assert Ours(1).notes is not Ours(1).notes


def test_records_are_equal_by_their_fields_and_never_to_another_class():
    assert Ours(600) == Ours(600)
    assert Ours(600) != Ours(601)
    assert Ours(600) != Theirs(600)
    assert Ours(600) != (600, (), [])


def test_a_frozen_record_hashes_by_its_fields_and_an_open_one_does_not():
    @dataclass(frozen=True, slots=True)
    class Plain:
        a: int
        b: str

    @dataclass(slots=True)
    class Open:
        a: int

    assert hash(Plain(1, "x")) == hash(Plain(1, "x"))
    assert len({Plain(1, "x"), Plain(1, "x"), Plain(2, "x")}) == 2
    with pytest.raises(TypeError):
        hash(Open(1))


def test_records_have_slots_match_by_place_and_travel_to_another_process():
    with pytest.raises(AttributeError):
        Ours(600).widht_mm = 3  # a misspelt name is told at run time too
    match Ours(600, ("side",)):
        case Ours(width, names):
            assert (width, names) == (600, ("side",))
    assert pickle.loads(pickle.dumps(Ours(600, ("side",)))) == Ours(600, ("side",))


@dataclass(frozen=True, slots=True)
class Board:
    """A board."""

    name: str
    price: int
    thick_mm: int = 18
    grained: bool = False

    @property
    def words(self) -> str:
        return f"{self.name} {self.thick_mm}"


@dataclasses.dataclass(frozen=True, slots=True)
class StandardBoard:
    """A board."""

    name: str
    price: int
    thick_mm: int = 18
    grained: bool = False


def test_a_record_of_plain_fields_is_made_as_the_standard_one_is():
    for places, names in ((("white", 61), {}), (("white",), {"price": 61, "grained": True}), (("white", 61, 19), {})):
        assert dataclasses.asdict(Board(*places, **names)) == dataclasses.asdict(StandardBoard(*places, **names))
    assert [(one.name, one.type, one.default) for one in dataclasses.fields(Board)] == [
        (one.name, one.type, one.default) for one in dataclasses.fields(StandardBoard)
    ]
    assert repr(Board("white", 61)) == repr(StandardBoard("white", 61)).replace("StandardBoard", "Board")
    assert Board.__doc__ == "A board."
    assert Board("white", 61).words == "white 18"
    assert dataclasses.replace(Board("white", 61), thick_mm=19) == Board("white", 61, 19)
    match Board("white", 61):
        case Board(name, price):
            assert (name, price) == ("white", 61)
    assert pickle.loads(pickle.dumps(Board("white", 61))) == Board("white", 61)


@pytest.mark.parametrize(
    ("places", "names"),
    [((), {}), (("white",), {}), (("white", 1, 2, True, 5), {}), (("white", 1), {"colour": 3}), (("a",), {"name": 1})],
)
def test_a_record_made_wrongly_is_refused_in_the_same_words(places, names):
    with pytest.raises(TypeError) as ours:
        Board(*places, **names)
    with pytest.raises(TypeError) as theirs:
        StandardBoard(*places, **names)
    assert str(ours.value) == str(theirs.value).replace("StandardBoard", "Board")


def test_a_misspelt_name_of_a_plain_record_is_told_at_run_time():
    with pytest.raises(AttributeError):
        Board("white", 61).widht_mm = 3
