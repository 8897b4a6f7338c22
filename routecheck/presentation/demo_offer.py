"""Whether a route is one of the invented demo region, though other data is in use."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from routecheck.model import WordKind
from routecheck.navdata.database import demo_database

if TYPE_CHECKING:
    from routecheck.model import Assessment


def fits_the_demo(assessment: Assessment) -> bool:
    """Whether the demo region knows more names of the text than the data in use, which lacks one at least.

    Names beside the text count too, of airports: no real one has a name of the demo region.
    """
    resolved = assessment.route.resolved
    if all(source.invented for source in resolved.sources):
        return False
    words = resolved.parsed.words
    named = [
        point
        for point in resolved.route_points
        if not point.implied and (point.word is None or words[point.word].kind is WordKind.NAME)
    ]
    lacking = [point for point in named if point.place is None]
    if not lacking:
        return False
    in_demo = [point for point in named if point.text.upper() in _demo_names()]
    return len(in_demo) > len(named) - len(lacking)


@cache
def _demo_names() -> frozenset[str]:
    demo = demo_database()
    return frozenset(demo.names()) | frozenset(demo.records.airports)
