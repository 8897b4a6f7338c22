"""Our frozen dataclasses do what the standard ones do: tests run on classes made by either decorator."""

import copy
import dataclasses
import inspect
import math
import pickle
from dataclasses import KW_ONLY, FrozenInstanceError, field

import pytest

from routecheck import frozen_dataclass


def make_kinds(decorator):
    @decorator(frozen=True, slots=True)
    class Inner:
        name: str
        length_nm: float = 0.0

    @decorator(frozen=True, slots=True)
    class Value:
        inner: Inner
        text: str = "none"
        _: KW_ONLY
        parts: tuple[int, ...] = field(default_factory=lambda: (1, 2))
        origin: str = field(default="typed", compare=False, repr=False)
        shout: str = field(init=False, compare=False)

        def __post_init__(self):
            object.__setattr__(self, "shout", self.text.upper())

    @decorator(frozen=True, slots=True)
    class Empty:
        pass

    @decorator(frozen=True, slots=True, kw_only=True, eq=False)
    class Named:
        one: int
        two: int = 2

    return Inner, Value, Empty, Named


STANDARD, OURS = make_kinds(dataclasses.dataclass), make_kinds(frozen_dataclass.dataclass)
Piece = frozen_dataclass.dataclass(frozen=True, slots=True)(type("Piece", (), {"__annotations__": {"a": "int"}}))
Piece.__module__ = __name__


@pytest.fixture(params=[STANDARD, OURS], ids=["standard", "ours"])
def kinds(request):
    return request.param


def test_arguments_by_place_by_name_and_by_default(kinds):
    inner_kind, value_kind, empty, named = kinds
    value = value_kind(inner_kind("LENDU"), parts=(3,))
    assert dataclasses.astuple(value) == (("LENDU", 0.0), "none", (3,), "typed", "NONE")
    assert value_kind(inner_kind("X")).parts == (1, 2)
    assert dataclasses.asdict(named(one=1)) == {"one": 1, "two": 2}
    assert value_kind.__match_args__ == ("inner", "text")
    for wrong in (lambda: inner_kind(), lambda: named(1), lambda: value_kind(1, "", (3,)), lambda: empty(1)):
        with pytest.raises(TypeError):
            wrong()


def test_what_is_compared(kinds):
    inner_kind, value_kind, empty, named = kinds
    value, same = value_kind(inner_kind("A"), origin="one"), value_kind(inner_kind("A"), origin="another")
    assert (value == same, hash(value) == hash(same)) == (True, True)
    assert value != dataclasses.replace(value, text="other")
    assert {inner_kind("A", math.nan)} != {inner_kind("A", 1.0)}
    assert (inner_kind("A") == ("A", 0.0), empty() == empty(), len({empty(), empty()})) == (False, True, 1)
    one = named(one=1)
    assert (one == named(one=1), one == one, len({one, named(one=1)})) == (False, True, 2)


def test_nothing_can_be_set_or_deleted(kinds):
    inner = kinds[0]("A")
    with pytest.raises(FrozenInstanceError, match="cannot assign to field 'name'"):
        inner.name = "B"
    with pytest.raises(FrozenInstanceError, match="cannot delete field 'name'"):
        del inner.name
    assert not hasattr(inner, "__dict__")


def test_how_it_is_described():
    for standard, ours in zip(STANDARD, OURS, strict=True):
        assert [f.name for f in dataclasses.fields(standard)] == [f.name for f in dataclasses.fields(ours)]
        assert [*inspect.signature(standard).parameters] == [*inspect.signature(ours).parameters]
    described = [repr(kinds[1](kinds[0]("A"))) for kinds in (STANDARD, OURS)]
    assert described[0] == described[1]
    assert "Inner(name='A', length_nm=0.0)" in described[1]


def test_copies_and_pickles():
    assert pickle.loads(pickle.dumps(Piece(3))) == Piece(3) == copy.deepcopy(Piece(3)) == copy.copy(Piece(3))


def test_it_is_asked_for_as_what_it_is():
    for given in ({"frozen": False, "slots": True}, {"frozen": True, "slots": False}):
        with pytest.raises(AssertionError, match=r"dataclasses\.dataclass"):
            frozen_dataclass.dataclass(**given)
