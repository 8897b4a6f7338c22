"""Values of the model: nobody changes them, all have a hash, and those of six fields or more are made by keyword."""

import datetime as dt
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace

import pytest

from routecheck import model
from routecheck.model import Assessment, Place, PlaceKind, RouteInput, Weight
from routecheck.pipeline import assess
from routecheck.settings import Settings

DAY = dt.date(2026, 12, 3)
KINDS = [kind for kind in vars(model).values() if is_dataclass(kind)]


@pytest.fixture(scope="module")
def assessment(demo) -> Assessment:
    route_input = RouteInput(
        "LENDU1 LENDU UM12 PIKOR DCT UVAGI DCT SARNO SARNO2",
        "XVAL",
        "XVOR",
        departure_runway="09",
        approach="R09",
        speed="N0430",
        level="F350",
    )
    answer = assess(route_input, demo, Settings(), DAY)
    assert any(finding.likely_intended for finding in answer.findings)
    return answer


@pytest.mark.parametrize("kind", KINDS, ids=lambda kind: kind.__name__)
def test_no_value_can_be_changed(kind):
    blank = kind.__new__(kind)
    for field in fields(kind):
        with pytest.raises(FrozenInstanceError):
            setattr(blank, field.name, None)
    assert "__dict__" not in dir(kind)


def test_no_value_of_an_assessment_can_be_changed(assessment):
    seen = {type(one): one for one in values_within(assessment)}
    assert len(seen) > 20
    for one in seen.values():
        for field in fields(one):
            with pytest.raises(FrozenInstanceError):
                setattr(one, field.name, getattr(one, field.name))


def values_within(one):
    """A value and all values that it holds."""
    if is_dataclass(one):
        yield one
        for field in fields(one):
            yield from values_within(getattr(one, field.name))
    elif isinstance(one, tuple):
        for part in one:
            yield from values_within(part)


def test_a_whole_assessment_has_a_hash_that_goes_by_what_it_says(assessment, demo):
    again = assess(assessment.route.route_input, demo, Settings(), DAY)
    assert {assessment, again} == {assessment}
    heaviest = replace(assessment, findings=tuple(replace(f, weight=Weight.NOTE) for f in assessment.findings))
    assert len({assessment, heaviest}) == 2


def test_the_data_behind_an_assessment_has_a_hash_too(demo):
    (piece,) = demo.airways("UM12")
    assert len({*demo.sources, piece, demo.airport("XVAL"), demo.procedure("XVAL", "SID", "LENDU1")}) == 4
    with pytest.raises(TypeError):
        piece.index_by_key[piece.places[0].key] = 3


def test_a_later_field_is_not_taken_by_its_place():
    with pytest.raises(TypeError):
        Place("LENDU", -30.0, 1.0, PlaceKind.FIX, "XV")


def test_a_copy_with_a_change_leaves_the_first_as_it_was():
    fact = model.Fact("turn", 12.0, "°")
    other = replace(fact, value=13.0)
    assert (fact.value, other.value) == (12.0, 13.0)
    assert fact != other == model.Fact("turn", 13.0, "°")
    assert len({fact, other, model.Fact("turn", 13.0, "°")}) == 2
    assert [f.name for f in fields(fact)] == ["name", "value", "unit", "is_turn"]
