"""Weights, fuel, alternates and the read-across as JSON. Nothing is reckoned here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from routecheck.checks.read_across_rows import marks_by_row, read_across_rows
from routecheck.model import LOAD_NAMES
from routecheck.performance.load_sums import load_sums
from routecheck.presentation.load_view import reserve_view

if TYPE_CHECKING:
    from routecheck.model import Load, Route
    from routecheck.performance.load_sums import LoadSum
    from routecheck.presentation.alternate_view import AlternateView


def build_load(route: Route) -> dict[str, Any] | None:
    """Weights and fuel of a route; None where nothing of them is stated."""
    load = route.route_input.load
    if load is None:
        return None
    sums = load_sums(load)
    return {
        "unit": load.unit or None,
        "figures": [_build_figure(name, load, sums.get(name)) for name in LOAD_NAMES if _is_known(name, load, sums)],
        "reserve": _build_reserve(route),
    }


def _is_known(name: str, load: Load, sums: dict[str, LoadSum]) -> bool:
    return load.get(name) is not None or (name in sums and sums[name].computed is not None)


def _build_figure(name: str, load: Load, one: LoadSum | None) -> dict[str, Any]:
    computed = one.computed if one and one.terms else None
    return {
        "name": name,
        "stated": load.get(name),
        "computed": None if computed is None else round(computed, 3),
        "sum_of": [[term.name, round(term.sign * term.amount, 3)] for term in one.terms] if one else [],
        "missing": list(one.missing) if one and one.terms else [],
        "is_off": bool(one and one.is_off),
    }


def _build_reserve(route: Route) -> dict[str, Any] | None:
    view = reserve_view(route)
    if view is None:
        return None
    return {
        "rule": view.rule,
        "terms": [
            {
                "name": term.name,
                "amount": None if term.amount is None else round(term.amount, 1),
                "because": term.lacks or None,
            }
            for term in view.terms
        ],
        "needed_at_take_off": round(view.needed, 1) if view.is_whole else None,
        "on_board_at_take_off": round(view.on_board.amount, 1) if view.on_board else None,
    }


def build_alternate(one: AlternateView) -> dict[str, Any]:
    """An alternate with the way to it from the destination."""
    return {
        "name": one.name,
        "route": one.route or None,
        "distance_nm": _round(one.distance_nm, 4),
        "direct_nm": _round(one.direct_nm, 4),
        "course_true_deg": _round(one.course_true_deg, 3),
        "course_magnetic_deg": _round(one.course_magnetic_deg, 3),
        "time_min": _round(one.time_min, 2),
        "fuel_kg": _round(one.fuel_kg, 1),
        "gaps": one.gaps,
        "because": one.because or None,
    }


def build_read_across(route: Route) -> dict[str, Any] | None:
    """The read-across of a route; None where nobody began."""
    read = route.route_input.read_across
    if read is None:
        return None
    marks = list(zip(read_across_rows(route), marks_by_row(route), strict=True))
    return {
        "by": read.by or None,
        "at": read.at or None,
        "rows": [
            {"row": row.text, "same": mark.is_same if mark else None, "shown": (mark.shown or None) if mark else None}
            for row, mark in marks
        ],
    }


def _round(figure: float | None, digits: int) -> float | None:
    return None if figure is None else round(figure, digits)
