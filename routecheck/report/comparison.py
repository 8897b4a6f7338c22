"""A comparison of two versions as plain text and as one JSON object (routecheck.comparison/1)."""

from __future__ import annotations

import json
import textwrap
from typing import TYPE_CHECKING, Any

from routecheck import __version__
from routecheck.model import CAUTION_IN_FULL
from routecheck.presentation import comparison as words
from routecheck.presentation.headline import data_line, headline
from routecheck.report.output_options import USUAL_WIDTH

if TYPE_CHECKING:
    from routecheck.model import Assessment, Comparison, Difference

SCHEMA = "routecheck.comparison/1"


def describe_comparison(comparison: Comparison, first: Assessment, second: Assessment) -> str:
    """Every difference in a sentence, what the whole differs by, and what stands over each version."""
    lines = [_wrap(words.verdict_sentence(comparison))]
    for number, difference in enumerate(comparison.differences, start=1):
        lines.append(_wrap(f"{number:>3} {words.difference_sentence(comparison, difference)}", hang=4))
    lines += ["", _wrap(words.distance_sentence(comparison))]
    for name, assessment in zip(words.version_names(comparison), (first, second), strict=True):
        lines.append(_wrap(f"{name[:1].upper()}{name[1:]}: {headline(assessment).sentence}"))
    lines += ["", _wrap(data_line(first)), _wrap(CAUTION_IN_FULL)]
    return "\n".join(lines) + "\n"


def format_comparison(comparison: Comparison) -> str:
    """The comparison as one line of JSON, without its end."""
    return json.dumps(_build_comparison(comparison), allow_nan=False)


def _build_comparison(comparison: Comparison) -> dict[str, Any]:
    return {
        "schema": SCHEMA,
        "program": __version__,
        "first": _version(comparison, 0),
        "second": _version(comparison, 1),
        "same": not comparison.differences,
        "differences": [_difference(comparison, one) for one in comparison.differences],
        "unplaced": list(comparison.unplaced),
        "cautions": CAUTION_IN_FULL,
    }


def _version(comparison: Comparison, which: int) -> dict[str, Any]:
    route = (comparison.first, comparison.second)[which]
    totals = route.totals
    return {
        "name": route.route_input.name,
        "role": route.route_input.role.value,
        "route": route.route_input.route,
        "distance_nm": round(totals.distance_nm, 4),
        "gaps": totals.gaps,
    }


def _difference(comparison: Comparison, difference: Difference) -> dict[str, Any]:
    far = difference.distance_nm
    return {
        "kind": difference.kind.value,
        "of": difference.subject,
        "first": list(difference.first),
        "second": list(difference.second),
        "distance_nm": None if far is None else round(far, 4),
        "first_spans": [list(span) for span in difference.spans],
        "second_spans": [list(span) for span in difference.other_spans],
        "message": words.difference_sentence(comparison, difference),
    }


def _wrap(text: str, hang: int = 0) -> str:
    return textwrap.fill(text, USUAL_WIDTH, subsequent_indent=" " * hang)
