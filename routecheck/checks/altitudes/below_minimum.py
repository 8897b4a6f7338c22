"""Check below-minimum."""

from __future__ import annotations

from itertools import accumulate
from typing import TYPE_CHECKING

from routecheck.checks import preconditions
from routecheck.checks.altitude_queries import spans_of_stretch
from routecheck.checks.catalogue import Family, Limit, Limits, case, check, exceeds
from routecheck.checks.level_flight import LevelPart, level_parts
from routecheck.checks.route_queries import spans_of_point
from routecheck.citations import OWN_CHOICE
from routecheck.formatting import count, level
from routecheck.model import Fact, Finding, GridCell, NotChecked, Via, Weight

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Route, Span

NEAR_FIELD = Limit(
    "near_field_nm",
    25.0,
    "NM",
    OWN_CHOICE,
    highest=100.0,
    why="so near an aerodrome sector altitudes and radar minima hold",
)
_OFF_AIRWAYS = frozenset({Via.DIRECT, Via.IMPLIED, Via.RADIAL})
_CELL_DOUBT_NM = 0.1
"""No better is it known where a cell begins on a leg."""


@check(
    "below-minimum",
    Weight.DOUBTFUL,
    family=Family.ALTITUDES,
    sentence="Off airways the flight is level below the grid minimum off-route altitude.",
    explanation=(
        "The highest grid minimum (MORA) counts of all cells of one degree that the level part of a leg crosses, more "
        "than 25 NM from the aerodromes. Where the climb ends and the descent begins goes by the Aircraft sheet, else "
        "by 3 NM for every 1,000 ft. Airways have minima of their own, and procedures are believed. What has no grid "
        "minimum in the data is not checked. Of each filed level the worst leg is named."
    ),
    false_alarms=(
        "the highest ground of a cell may lie far off the route; radar vectoring and obstacle-clearance altitudes are "
        "lower."
    ),
    limits=[NEAR_FIELD],
    citations=["grid-mora", "rule-of-three"],
    requires=(preconditions.lacking_minima,),
    flagged=[
        case("«N0140A060» «FINAR» DCT «KEL» DCT MAV", destination="XVMA"),
        case("LENDU DCT «ERDAM» DCT «MAV»", destination="XVMA", level="A040"),
        case("N0140A090 FINAR DCT «KEL»/«N0140A060» DCT «MELKA» DCT MAV", destination="XVMA"),
    ],
    quiet=[
        case("N0140A080 FINAR DCT KEL DCT MAV", destination="XVMA"),
        case("N0140A060 FINAR V14 KEL V14 MAV", destination="XVMA"),
        case("N0140A060 34S002E 34S005E 32S007E"),
        case("N0140A070 KEL", departure="XVKE", destination="XVKE"),
        "FINAR DCT KEL DCT SARNO",
        "N0140VFR FINAR DCT KEL DCT SARNO",
    ],
)
def below_minimum(route: Route, limit: Limits) -> Iterator[Finding | NotChecked]:
    low: dict[int | None, list[tuple[LevelPart, GridCell]]] = {}
    unknown: list[LevelPart] = []
    for part, cells in _parts_with_cells(route, limit[NEAR_FIELD]):
        known = [cell for cell in cells if cell.mora_ft is not None]
        highest = max(known, key=_mora, default=None)
        if highest and exceeds(_mora(highest), part.feet):
            low.setdefault(part.filed.word, []).append((part, highest))
        elif len(known) < len(cells):
            unknown.append(part)
    yield from (_finding(route, legs) for legs in low.values())
    if unknown:
        spans = tuple(sorted({span for part in unknown for span in _spans_of_ends(route, part)}))
        yield NotChecked(
            spans, f"no grid minimum is known for all of {_leg_name(route, unknown[0])}{_more_legs(unknown)}"
        )


def _parts_with_cells(route: Route, near_field_nm: float) -> Iterator[tuple[LevelPart, list[GridCell]]]:
    """The level parts off airways and away from the aerodromes, each with the cells crossed there."""
    along = list(accumulate((leg.least_nm or 0.0 for leg in route.legs), initial=0.0))
    for part in level_parts(route):
        leg, start = route.legs[part.leg], along[part.leg]
        if not leg.distance_nm or route.resolved.connections[leg.connection].via not in _OFF_AIRWAYS:
            continue
        begins = max(part.begins, (near_field_nm - start) / leg.distance_nm)
        ends = min(part.ends, (along[-1] - near_field_nm - start) / leg.distance_nm)
        least = _CELL_DOUBT_NM / leg.distance_nm
        cells = route.minima[part.leg].cells
        yield part, [cell for cell in cells if min(cell.ends, ends) - max(cell.begins, begins) > least]


def _mora(cell: GridCell) -> float:
    return cell.mora_ft or 0.0


def _spans_of_ends(route: Route, part: LevelPart) -> set[Span]:
    return {span for i in (part.leg, part.leg + 1) for span in spans_of_point(route.points[i])}


def _leg_name(route: Route, part: LevelPart) -> str:
    return f"{route.points[part.leg].text}–{route.points[part.leg + 1].text}"


def _more_legs(legs: Sequence[object]) -> str:
    return f" and {count(len(legs) - 1, 'more leg')}" if len(legs) > 1 else ""


def _finding(route: Route, low: Sequence[tuple[LevelPart, GridCell]]) -> Finding:
    part, cell = max(low, key=lambda pair: _mora(pair[1]))
    legs = f"{_leg_name(route, part)}{_more_legs(low)}"
    message = (
        f"{legs} level at {level(part.filed.level)}, off airways: below the grid minimum "
        f"off-route altitude of {_mora(cell):,.0f} ft in {_cell_name(cell)}."
    )
    facts = Fact("level", round(part.feet), "ft"), Fact("grid MORA", round(_mora(cell)), "ft")
    spans = tuple(sorted({*spans_of_stretch(route, part.filed), *_spans_of_ends(route, part)}))
    return Finding(spans, message, Weight.DOUBTFUL, facts, points=(part.leg, part.leg + 1))


def _cell_name(cell: GridCell) -> str:
    lats = f"{abs(cell.lat):02d}{'S' if cell.lat < 0 else 'N'}"
    return f"the cell from {lats} {abs(cell.lon):03d}{'W' if cell.lon < 0 else 'E'}"
