"""The review sheet of a route as HTML: all that was checked, found, accepted and not looked at, for a file or paper.

Plain enough for a browser and for Qt's own documents: tables, no scripts, nothing that only a colour says.
"""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from routecheck import __version__
from routecheck.checks.read_across_rows import marks_by_row
from routecheck.formatting import date, listing
from routecheck.model import CAUTION, CAUTION_IN_FULL, NOT_LOOKED_AT, Role
from routecheck.presentation import headline as head
from routecheck.presentation.alternate_view import alternate_views
from routecheck.presentation.changes import change_label, pending_changes_line
from routecheck.presentation.comparison import difference_sentences, over_comparison
from routecheck.presentation.finding_rows import finding_rows, not_checked_rows
from routecheck.presentation.leg_table import leg_table
from routecheck.presentation.load_view import load_lines
from routecheck.presentation.read_across import read_across_line
from routecheck.report.html_text import make_picture, make_safe
from routecheck.report.route_names import name_route

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Iterable, Iterator, Mapping, Sequence

    from routecheck.model import Assessment
    from routecheck.presentation.finding_rows import FindingRow

_COMPUTED_TWICE = "Every length was computed twice, by two methods; the totals agree."
_MANY_COLUMNS = 12
"""With more the Leg table is set smaller, so that it stays within the page."""
_STYLE = """\
body { font-family: sans-serif; font-size: 10px; color: #000; background: #fff; max-width: 52em; }
h3 { font-size: 14px; margin: 0 0 2px 0; }
h4 { font-size: 11px; margin: 6px 0 1px 0; }
p { margin: 1pt 0; }
table { border-collapse: collapse; }
th, td { border: 1px solid #999; padding: 0 4px; text-align: left; vertical-align: top; font-size: 9px; }
.small { font-size: 8px; }
.narrow { font-size: 8px; padding: 0 2px; white-space: nowrap; }
.narrowest { font-size: 7px; padding: 0 1px; white-space: nowrap; }
.words { font-family: monospace; }
"""


def write_sheet(
    assessment: Assessment,
    *,
    at: dt.datetime,
    limits: Iterable[str] = (),
    pictures: Mapping[str, bytes] | None = None,
    width_px: int = 640,
) -> str:
    """The sheet as one HTML text. `at` is the time of the check, UTC; `limits` the changed ones in words.

    `pictures` are PNG by title, drawn so wide.
    """
    sections = (
        ("Route text", _describe_text(assessment)),
        *((title, [make_picture(png, title, width_px)]) for title, png in (pictures or {}).items()),
        ("Findings", _describe_findings(assessment)),
        ("Other version", _describe_comparison(assessment)),
        ("Read across", _describe_read_across(assessment)),
        ("Legs", _tabulate_legs(assessment)),
        ("Totals", _describe_totals(assessment)),
        ("Weights and fuel", map(_paragraph, load_lines(assessment.route))),
        ("What was checked", _describe_checked(assessment)),
        ("Limits in force", _describe_limits(limits)),
    )
    body = [*_describe_head(assessment, at)]
    for title, parts in sections:
        if content := "".join(parts):
            body.append(f"<h4>{escape(title)}</h4>\n{content}")
    body += [
        f"<h4>Cautions</h4>\n<p><b>{make_safe(CAUTION_IN_FULL)}</b></p>",
        _paragraph(f"Not looked at: {NOT_LOOKED_AT}."),
    ]
    title = make_safe(f"Review sheet {name_route(assessment)}")
    return (
        f'<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8"><title>{title}</title>\n'
        f"<style>\n{_STYLE}</style></head>\n<body>\n{''.join(body)}</body>\n</html>\n"
    )


def _describe_head(assessment: Assessment, at: dt.datetime) -> Iterator[str]:
    route, over = assessment.route, head.headline(assessment)
    role = route.route_input.role
    what = "What the text is: not said" if role is Role.NOT_SAID else f"The text as {role.value}"
    yield f"<h3>Review sheet: {make_safe(name_route(assessment))}</h3>\n"
    yield _paragraph(
        f"{what}. Flight of {date(route.date)}. Checked {date(at.date())} {at:%H:%M} UTC by Routecheck {__version__}."
    )
    yield f"<p><b>{make_safe(over.verdict_line)}</b></p>\n"
    if over.how_much:
        yield _paragraph(over.how_much)
    yield f"<p><b>{make_safe(CAUTION)}</b></p>\n"


def _describe_text(assessment: Assessment) -> Iterator[str]:
    """The words in hand, and what each changed word was before: the original never disappears."""
    route_input = assessment.route.route_input
    yield f'<p class="words">{make_safe(" ".join(route_input.route.split()) or "no route text")}</p>\n'
    if pending := pending_changes_line(route_input.changed):
        yield f"<p><b>{make_safe(pending)}</b></p>\n"
    if ticked := [change_label(change) for change in route_input.changed if change.ticked]:
        yield _paragraph(f"Changed here, and said to be corrected elsewhere too: {listing(ticked)}.")
    yield _paragraph(head.recognised_line(assessment))
    yield from map(_paragraph, head.input_remarks(assessment))


def _describe_findings(assessment: Assessment) -> Iterator[str]:
    rows = finding_rows(assessment)
    yield _paragraph(head.findings_line(assessment) or "No findings.")
    if rows:
        heads = ("No.", "Weight", "Finding", "Likely intended", "Accepted")
        yield _table(heads, ((str(row.number), f"{row.mark} {row.weight}", *_finding_cells(row)) for row in rows))


def _finding_cells(row: FindingRow) -> tuple[str, str, str]:
    return f"{row.message} [{row.check}]", "; ".join(row.intended), row.accepted or "no"


def _describe_comparison(assessment: Assessment) -> Iterator[str]:
    if assessment.comparison is None:
        return
    yield _paragraph(over_comparison(assessment.comparison, assessment.other.not_used if assessment.other else ()))
    yield from map(_paragraph, difference_sentences(assessment.comparison))


def _describe_read_across(assessment: Assessment) -> Iterator[str]:
    """How far it came and by whom; of the rows those that differ, with what the other display showed."""
    route = assessment.route
    if line := read_across_line(route):
        yield _paragraph(line)
    if route.route_input.read_across:
        differing = [mark for mark in marks_by_row(route) if mark and not mark.is_same]
        if differing:
            yield _table(("Here", "The other display"), ((mark.row, mark.shown or "differs") for mark in differing))


def _tabulate_legs(assessment: Assessment) -> Iterator[str]:
    table = leg_table(assessment)
    if table.columns:
        heads = [column.head for column in table.columns]
        kind = "narrow" if len(heads) <= _MANY_COLUMNS else "narrowest"
        yield _table(heads, (row.cells for row in table.rows), kind)  # what they add up to stands under Totals
    if table.basis:
        yield _paragraph(table.basis)


def _describe_totals(assessment: Assessment) -> Iterator[str]:
    route = assessment.route
    yield _paragraph(f"{head.totals_line(assessment)}.")
    yield _paragraph(" ".join(route.own_mistakes) or _COMPUTED_TWICE)
    yield from (_paragraph(one.sentence) for one in alternate_views(route))


def _describe_checked(assessment: Assessment) -> Iterator[str]:
    yield _paragraph(head.outcomes_line(assessment))
    yield _paragraph(head.data_line(assessment))
    reasons: dict[str, list[str]] = {}
    for check, why in not_checked_rows(assessment):
        reasons.setdefault(why, []).append(check)
    if reasons:
        listed = "; ".join(f"{listing(checks)}: {why}" for why, checks in reasons.items())
        yield f'<p class="small">{make_safe(f"Not checked: {listed}.")}</p>\n'


def _describe_limits(limits: Iterable[str]) -> Iterator[str]:
    changed = list(limits)
    yield _paragraph("Changed by the user; all others as shipped:" if changed else "All as shipped.")
    yield from map(_paragraph, changed)


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]], kind: str = "usual") -> str:
    head_row = "".join(f'<th class="{kind}">{make_safe(text)}</th>' for text in heads)
    cells = ("".join(f'<td class="{kind}">{make_safe(text)}</td>' for text in row) for row in rows)
    body = "".join(f"<tr>{row}</tr>\n" for row in cells)
    return f'<table cellspacing="0"><thead><tr>{head_row}</tr></thead>\n{body}</table>\n'


def _paragraph(text: str) -> str:
    return f"<p>{make_safe(text)}</p>\n"
