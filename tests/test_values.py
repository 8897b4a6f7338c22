"""Values of the model: slots, a hash, copies with a change. That nobody changes them is mypy's to say."""

from dataclasses import fields, is_dataclass, replace

import pytest

from routecheck import model
from routecheck.model.value import value

VALUES = [kind for kind in vars(model).values() if is_dataclass(kind)]


@pytest.mark.parametrize("kind", VALUES, ids=lambda kind: kind.__name__)
def test_every_dataclass_of_the_model_has_slots_and_a_hash(kind):
    assert "__dict__" not in dir(kind)
    assert kind.__hash__ is not None


def test_the_type_checker_is_told_that_they_are_frozen():
    told = value.__dataclass_transform__  # Python 3.11 keeps it among the rest, later ones apart
    assert {**told["kwargs"], **told}["frozen_default"] is True


def test_a_copy_with_a_change_leaves_the_first_as_it_was():
    fact = model.Fact("turn", 12.0, "°")
    other = replace(fact, value=13.0)
    assert (fact.value, other.value) == (12.0, 13.0)
    assert fact != other == model.Fact("turn", 13.0, "°")
    assert len({fact, other, model.Fact("turn", 13.0, "°")}) == 2
    assert [f.name for f in fields(fact)] == ["name", "value", "unit"]
