"""Check rules-change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.route_queries import kinds_of_words, spans_of_words
from routecheck.model import Finding, NotChecked, Weight, WordKind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.model import Route

_CHANGE_NEEDED = {"Y": "VFR", "Z": "IFR"}

_NOT_KNOWN = "the flight rules filed are not known"


def _lacking_rules(route: Route) -> str:
    """Where the route changes them the words that say so are named, so that it is put to the check all the same."""
    return "" if route.route_input.rules or WordKind.RULES in kinds_of_words(route) else _NOT_KNOWN


@check(
    "rules-change",
    Weight.DOUBTFUL,
    family=Family.READING,
    sentence=(
        "Rules Y or Z are filed without the change in the route, or the route changes to rules that were not filed."
    ),
    explanation=(
        "Y is IFR first and needs VFR in the route; Z is VFR first and needs IFR. Not checked while the rules filed "
        "are not known."
    ),
    false_alarms="a route with several changes: only the first is compared with the rules filed.",
    citations=["field-8", "field-15"],
    requires=(_lacking_rules,),
    flagged=[
        case("LENDU DCT PIKAR", rules="Y", whole=True),
        case("LENDU DCT PIKAR «VFR» DCT SARNO", rules="I"),
        case("LENDU DCT PIKAR «VFR» DCT SARNO", rules="Z"),
    ],
    quiet=[
        case("LENDU DCT PIKAR VFR DCT SARNO", rules="Y"),
        case("LENDU DCT PIKAR/N0284A050 IFR DCT SARNO", rules="Z"),
        case("LENDU DCT PIKAR", rules="I"),
        "LENDU DCT PIKAR VFR",
    ],
)
def rules_change(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    changes = [i for i, word in enumerate(route.parsed.words) if word.kind is WordKind.RULES]
    rules = route.route_input.rules.upper()
    if not rules:
        yield NotChecked(spans_of_words(route, *changes), _NOT_KNOWN)
        return
    needed = _CHANGE_NEEDED.get(rules)
    if needed and not changes:
        message = f"Rules {rules} are filed, but the route has no change to {needed}."
        yield Finding((), message, Weight.DOUBTFUL)
    elif changes and route.parsed.words[changes[0]].text != needed:
        changed_to = route.parsed.words[changes[0]].text
        message = f"The route changes to {changed_to}, which rules {rules} do not do."
        yield Finding(spans_of_words(route, changes[0]), message, Weight.DOUBTFUL)
