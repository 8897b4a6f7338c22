"""Works that ask for entries to be assessed, side by side: each gets its own answers, and one that fails is alone."""

import pytest

from routecheck.corrections.asking import AT_ONCE, together
from routecheck.model import RouteInput


def asks(*rounds):
    """Asks in as many rounds for entries of these routes; comes to the answers in their order."""
    got = []
    for routes in rounds:
        got += yield [RouteInput(route) for route in routes]
    return got


class Assessor:
    """Answers an entry with its route in capitals; cannot take "poison". `calls` are the sizes of what it was asked."""

    def __init__(self):
        self.calls = []

    def __call__(self, route_inputs):
        self.calls.append(len(route_inputs))
        if any(route_input.route == "poison" for route_input in route_inputs):
            raise ZeroDivisionError("poison")
        return [route_input.route.upper() for route_input in route_inputs]


def test_each_gets_its_own_answers_and_a_round_is_one_call():
    assessor = Assessor()
    works = [asks("ab", "c"), asks(), asks("d"), asks("", "e", "fg")]
    assert together(works, assessor) == [["A", "B", "C"], [], ["D"], ["E", "F", "G"]]
    assert assessor.calls == [3, 2, 2]


def test_one_whose_entries_cannot_be_assessed_fails_alone():
    first, bad, last = together([asks("a"), asks(["poison"]), asks("b", "c")], Assessor())
    assert (first, last) == (["A"], ["B", "C"])
    assert isinstance(bad, ZeroDivisionError)


def test_one_may_take_its_failure_and_go_on():
    def steady():
        try:
            yield [RouteInput("poison")]
        except ZeroDivisionError:
            return (yield [RouteInput("again")])

    assert together([steady()], Assessor()) == [["AGAIN"]]


@pytest.mark.parametrize("before", [[], ["a"]])
def test_one_that_raises_by_itself_fails_alone(before):
    def broken():
        if before:
            yield [RouteInput(route) for route in before]
        raise KeyError("own fault")

    bad, good = together([broken(), asks("b")], Assessor())
    assert isinstance(bad, KeyError)
    assert good == ["B"]


def test_no_more_are_held_at_once_than_fit():
    assessor = Assessor()
    works = [asks("x" * (AT_ONCE // 2 + 1)) for _ in range(6)]
    assert [len(got) for got in together(works, assessor)] == [AT_ONCE // 2 + 1] * 6
    assert max(assessor.calls) == 2 * (AT_ONCE // 2 + 1)
    assert len(assessor.calls) == 3
