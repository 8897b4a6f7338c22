"""What checks ask of the weights and fuel that a plan states: which sums are off, and what explains it."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.entry_errors.figures import FigureError, explain_figure, write_mass
from routecheck.formatting import listing
from routecheck.model import LOAD_NAMES, Fact, Finding, NotChecked, Weight
from routecheck.performance.load_sums import describe_terms, load_sums, name_term

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.entry_errors.figures import LikelyError
    from routecheck.model import Load, Route
    from routecheck.performance.load_sums import LoadSum

NO_LOAD = "no weights or fuel are stated"
NO_UNIT = "it is not said whether weights and fuel are in kg or lb"
_MOST_CAUSES = 2
_VOLUMES = frozenset({"block_fuel", "trip_fuel"})
"""What may have been stated as a volume: it is what is ordered, or read off a gauge."""


def lacking_load(route: Route) -> str:
    """The plan needs to state a weight or an amount of fuel."""
    load = route.route_input.load
    return "" if load and load.states_masses else NO_LOAD


def in_unit(amount: float, load: Load) -> str:
    """A mass with the unit of the plan, where that is said."""
    return f"{write_mass(amount)} {load.unit}".rstrip()


def capitalise(sentence: str) -> str:
    """A sentence with a capital at its head; abbreviations stay as they are."""
    return sentence[:1].upper() + sentence[1:]


def check_sums(load: Load, names: tuple[str, ...]) -> Iterator[Finding | NotChecked]:
    """A finding for every sum that is off; what could not be added up, and which figures it lacks."""
    sums = load_sums(load)
    for name in names:
        one = sums[name]
        if one.is_off:
            yield _make_finding(one, load)
        elif one.stated is not None and one.missing:
            lacking = listing([LOAD_NAMES[figure] for figure in one.missing])
            verb = "is" if len(one.missing) == 1 else "are"
            yield NotChecked((), f"{LOAD_NAMES[name]} is not added up: {lacking} {verb} not stated")


def _make_finding(one: LoadSum, load: Load) -> Finding:
    name, stated = LOAD_NAMES[one.name], one.stated or 0.0
    terms = describe_terms(one.terms, write_mass)
    off = one.excess if one.difference is None else one.difference
    if one.missing:
        comparison = f"alone, more than the {in_unit(stated, load)} that the plan states as {name}"
    else:
        comparison = f"; the plan's {name} is {in_unit(stated, load)}, {in_unit(abs(off), load)} {_more_or_less(off)}"
    message = f"{terms} make {in_unit(one.known, load)}{'' if comparison.startswith(';') else ' '}{comparison}."
    causes = [] if one.missing else find_causes(one, load)
    message = capitalise(message) + "".join(
        f" {'Or p' if number else 'P'}erhaps {cause}." for number, cause in enumerate(causes)
    )
    facts = (
        Fact("computed", round(one.known, 1), load.unit),
        Fact("stated", stated, load.unit),
        Fact("rounding explains", round(one.rounding, 1), load.unit),
    )
    return Finding((), message, Weight.WRONG, facts)


def _more_or_less(off: float) -> str:
    return "more" if off > 0.0 else "less"


class _Candidate(NamedTuple):
    """A figure of a sum that is off: what it must be for the sum to come out."""

    name: str
    stated: float
    needed: float


def find_causes(one: LoadSum, load: Load) -> list[str]:
    """What was probably meant, by the most telling error that any figure of the sum may have; at most two."""
    found: list[tuple[LikelyError, _Candidate]] = []
    for number, candidate in enumerate(_candidates(one)):
        likely = _explain(candidate, one, load)
        # That one digit is another explains any difference: it is said of the result alone.
        if likely and (number == 0 or likely.kind is not FigureError.ONE_DIGIT):
            found.append((likely, candidate))
    least = min((likely.kind for likely, _ in found), default=None)
    best = [(likely, candidate) for likely, candidate in found if likely.kind is least]
    return [
        f"{name_term(candidate.name)} {write_mass(candidate.stated)} is wrong, {likely.words}"
        for likely, candidate in best[:_MOST_CAUSES]
    ]


def _explain(candidate: _Candidate, one: LoadSum, load: Load) -> LikelyError | None:
    others = {
        LOAD_NAMES[name]: figure
        for name in (*LOAD_NAMES,)
        if name not in (candidate.name, one.name) and (figure := load.get(name)) is not None
    }
    is_result = candidate.name == one.name
    return explain_figure(
        candidate.stated,
        candidate.needed,
        one.rounding,
        unit=load.unit,
        others=others if is_result else {},
        fuel=candidate.name in _VOLUMES,
    )


def _candidates(one: LoadSum) -> Iterator[_Candidate]:
    """The result first, then every stated figure that goes into it."""
    stated, off = one.stated or 0.0, one.difference or 0.0
    yield _Candidate(one.name, stated, one.known)
    for term in one.terms:
        if term.is_stated:
            yield _Candidate(term.name, term.amount, term.amount + term.sign * off)
