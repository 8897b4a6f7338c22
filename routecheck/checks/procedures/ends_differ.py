"""Check ends-differ."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.checks.catalogue import Family, Limits, case, check
from routecheck.checks.text_ends import differing_ends
from routecheck.formatting import list_first
from routecheck.model import Finding, NotChecked, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator

    from routecheck.checks.text_ends import TextEnd
    from routecheck.model import Route

_MOST_OWNERS = 4


@check(
    "ends-differ",
    Weight.WRONG,
    family=Family.PROCEDURES,
    sentence="The text leads between other aerodromes than are given beside it.",
    explanation=(
        "Usually the departure, destination or runways of another flight were left beside the text. The aerodromes "
        "typed at the ends of the text are compared with those given; without them the owners of SID and STAR, where "
        "both belong elsewhere: the SID of the next flight may be one of the last destination. It stands first, and "
        "what follows from it is not said as well."
    ),
    false_alarms="a route that overflies an aerodrome named in its text next to an end.",
    flagged=[
        case("«XVMA» RULPO DCT SARNO DCT KEBUL"),
        case("LENDU DCT PIKAR DCT RULPO «XVMA»"),
        case("«XVOR» SARNO DCT UVAGI DCT LENDU «XVAL»", departure="XVMA", destination="XVMA"),
    ],
    quiet=[
        "XVAL LENDU DCT PIKAR DCT SARNO XVOR",
        "LENDU1 LENDU DCT SARNO SARNO2",
        case("XVAL LENDU DCT PIKAR", departure="", destination=""),
    ],
)
def ends_differ(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    departure, destination = differing_ends(route)
    if departure and destination:
        message = (
            f"The text leads from {_name(departure)} to {_name(destination)}; given beside it are {departure.given} "
            f"and {destination.given}."
        )
    elif departure:
        message = f"The text begins at {_name(departure)}; the departure given beside it is {departure.given}."
    elif destination:
        message = f"The text ends at {_name(destination)}; the destination given beside it is {destination.given}."
    else:
        return
    spans = tuple(span for end in (departure, destination) if end for span in end.spans)
    points = tuple(i for i, end in ((0, departure), (len(route.points) - 1, destination)) if end)
    yield Finding(spans, message, Weight.WRONG, points=points)


def _name(end: TextEnd) -> str:
    idents = list_first(end.idents, _MOST_OWNERS, "or")
    return f"{idents} ({end.told_by})" if end.told_by else idents
