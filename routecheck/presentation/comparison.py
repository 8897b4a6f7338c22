"""What differs between two versions of a route, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import count, listing, nm, short
from routecheck.model import DifferenceKind, Role
from routecheck.presentation.unseen import find_unseen_stretches

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.model import Assessment, Comparison, Difference, NotUsed, Route

_MOST_NAMED = 8
_MOST_NOT_USED_NAMED = 3
_WHAT = {
    DifferenceKind.SPEED_OR_LEVEL: "speed or level",
    DifferenceKind.WINDOW: "altitude window",
    DifferenceKind.PROCEDURE: "procedures",
    DifferenceKind.WORDS: "words that are no points",
}


def version_names(comparison: Comparison) -> tuple[str, str]:
    """What the two versions are called in sentences: by their roles where these differ, else the first, the second."""
    one, two = comparison.first.route_input.role, comparison.second.route_input.role
    if one is two:
        return "the first", "the second"
    return (
        "the first" if one is Role.NOT_SAID else f"as {one.value}",
        "the second" if two is Role.NOT_SAID else f"as {two.value}",
    )


def verdict_sentence(comparison: Comparison) -> str:
    """Whether they differ, and what the comparison cannot say."""
    number = len(comparison.differences)
    if number:
        verdict = f"{count(number, 'difference')}."
    else:
        verdict = "No difference in points, ways between them, procedures, runways, speeds, levels and stated windows."
    if comparison.unplaced:
        names = _names(comparison.unplaced)
        verdict += f" Compared by its letters only, for it is at no known place: {names}."
    return verdict


def distance_sentence(comparison: Comparison) -> str:
    """What the difference is in miles; a missing point can hide in a total."""
    first, second = comparison.first.totals, comparison.second.totals
    if first.gaps or second.gaps:
        return f"At least {nm(first.distance_nm)} and at least {nm(second.distance_nm)}: parts have no known length."
    change = second.distance_nm - first.distance_nm
    return f"{nm(first.distance_nm)} and {nm(second.distance_nm)}, {change:+.1f} NM."


def compared_sentence(assessment: Assessment) -> str:
    """What a comparison found the same where the route alone tells nothing; "" where there is nothing of that."""
    comparison = assessment.comparison
    return seen_sentence(comparison) if comparison else ""


def seen_sentence(comparison: Comparison) -> str:
    """The stretches of typed positions that are the same in both versions; "" where there is none."""
    stretches = find_unseen_stretches(comparison.first)
    same = [one for one in stretches if comparison.is_same_stretch(one.first, one.last)]
    if not same:
        return ""
    where = listing([_stretch_in_words(comparison.first, (one.first, one.last)) for one in same[:_MOST_NAMED]])
    return f"Compared point by point and the same: {where}."


def not_used_sentence(labels: Sequence[str]) -> str:
    """How much of an input was not used, the first of it by name; "" where all was."""
    named = list(labels[:_MOST_NOT_USED_NAMED])
    if more := len(labels) - len(named):
        named.append(f"{more:,} more")
    return f"{count(len(labels), 'value')} not used: {listing(named)}." if named else ""


def over_comparison(comparison: Comparison, other_not_used: Sequence[NotUsed] = ()) -> str:
    """What stands over the list of differences: with what the route is compared, whether they differ, what of the
    other version was not used."""
    lost = not_used_sentence([one.label for one in other_not_used])
    other = comparison.second.route_input
    role = "another version" if other.role is Role.NOT_SAID else f"the route as {other.role.value}"
    name = other.name or other.title or role
    verdict = f"Compared with {short(name, 40)}: {_begin_small(verdict_sentence(comparison))}"
    return f"{verdict} Of the other version {lost}" if lost else verdict


def comparison_sentences(assessment: Assessment, *, with_differences: bool = True) -> list[str]:
    """How a route stands against its other version; none where it has no other."""
    if assessment.comparison is None:
        return []
    over = over_comparison(assessment.comparison, assessment.other.not_used if assessment.other else ())
    return [over, *(difference_sentences(assessment.comparison) if with_differences else ())]


def difference_sentences(comparison: Comparison) -> list[str]:
    """Every difference in a sentence."""
    return [difference_sentence(comparison, one) for one in comparison.differences]


def difference_sentence(comparison: Comparison, difference: Difference) -> str:
    """A difference in one sentence: what, where, how much."""
    first, second = version_names(comparison)
    match difference.kind:
        case DifferenceKind.MISSING:
            place = _place_in_words(comparison.first, difference.points)
            return f"{_names(difference.first)}: missing {_version_in_words(second)}{place}."
        case DifferenceKind.EXTRA:
            place = _place_in_words(comparison.second, difference.other_points)
            return f"{_names(difference.second)}: only {_version_in_words(second)}{place}."
        case DifferenceKind.MOVED:
            far = "" if difference.distance_nm is None else f": {nm(difference.distance_nm)} apart"
            one, other = difference.first[0], difference.second[0]
            what = f"another {other}" if one == other else other
            return f"{_capital(_version_in_words(second))}, {what} in place of {one}{far}."
        case DifferenceKind.REORDERED:
            ours = f"{_after_in_words(comparison.first, difference.points)} {_version_in_words(first)}"
            theirs = f"{_after_in_words(comparison.second, difference.other_points)} {_version_in_words(second)}"
            return f"{difference.first[0]} comes {ours}, {theirs}."
        case DifferenceKind.WAY:
            ours = _way(difference.first, difference.second)
            theirs = _way(difference.second, difference.first)
            return f"{difference.subject}: {ours} {_version_in_words(first)}, {theirs} {_version_in_words(second)}."
        case _:
            return _sentence_of_values(difference, first, second)


def _sentence_of_values(difference: Difference, first: str, second: str) -> str:
    what = _WHAT.get(difference.kind, difference.subject)
    if difference.kind is DifferenceKind.SPEED_OR_LEVEL:
        what += f" from {difference.subject}" if difference.subject else " from the departure"
    elif difference.kind is DifferenceKind.WINDOW:
        what += f" at {difference.subject}"
    ours, theirs = _names(difference.first) or "not stated", _names(difference.second) or "not stated"
    if difference.kind in (DifferenceKind.PROCEDURE, DifferenceKind.WORDS):
        ours, theirs = _names(difference.first) or "none", _names(difference.second) or "none"
    return f"{_capital(what)}: {ours} {_version_in_words(first)}, {theirs} {_version_in_words(second)}."


def _version_in_words(version: str) -> str:
    return version if version.startswith("as ") else f"in {version}"


def _way(ways: Sequence[str], others: Sequence[str]) -> str:
    """By what a stretch is flown in one version; where by nothing of its own, not by what the other has."""
    if ways == ("DCT",):
        return "DCT"
    return f"by {listing(list(ways))}" if ways else f"not by {listing(list(others), 'or')}"


def _after_in_words(route: Route, points: Sequence[int]) -> str:
    return f"after {listing([_named_before(route, index) for index in points])}"


def _named_before(route: Route, index: int) -> str:
    before = (point for point in reversed(route.points[:index]) if point.route_point is not None)
    return short(next(before).text) or "the departure"


def _place_in_words(route: Route, points: Sequence[int]) -> str:
    if not points or points[-1] + 1 >= len(route.points):
        return ""
    return f", between {_stretch_in_words(route, (points[0] - 1, points[-1] + 1), ' and ')}"


def _stretch_in_words(route: Route, ends: tuple[int, int], link: str = "–") -> str:
    first, last = (short(route.points[index].text) or "?" for index in ends)
    return f"{first}{link}{last}"


def _names(names: Sequence[str]) -> str:
    shown = [short(name) for name in names[:_MOST_NAMED]]
    more = len(names) - len(shown)
    if more:
        shown.append(f"{more} more")
    return listing(shown) if names else ""


def _begin_small(text: str) -> str:
    return text[:1].lower() + text[1:]


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
