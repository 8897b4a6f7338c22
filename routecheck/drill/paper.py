"""A drill on paper: the hand-out with its routes and pictures, and the answer key, as HTML for pages."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.citations import cite
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.report.html_text import make_picture, make_safe

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.marking import Mark

_STYLE = """\
body { font-family: sans-serif; font-size: 10px; color: #000; }
h3 { font-size: 14px; margin: 0 0 4px 0; }
h4 { font-size: 11px; margin: 12px 0 2px 0; }
p { margin: 2px 0; }
table { border-collapse: collapse; }
th, td { border: 1px solid #999; padding: 0 4px; text-align: left; }
.words { font-family: monospace; font-size: 12px; }
"""
_ASKED = (
    "Some routes hold one entry error, some are in order, and some of these look odd. For each: the wrong word, the "
    "kind of error, what was meant; or “clean”."
)
_MARK_HEADS = "route", "error", "place", "kind", "correction", "reveals", "of 100"
_LINE = "Word: ____________________  Kind: ______________________________  Meant: ____________________"


def write_hand_out(cases: Sequence[DrillCase], pictures: Mapping[str, bytes], width_px: int) -> str:
    """The routes as trainees see them. `pictures` are PNG by the name of a case, without a mark on them."""
    parts = [f"<p>{make_safe(_ASKED)}</p>\n", f"<p>Kinds: {make_safe(', '.join(ERROR_KINDS))}.</p>\n"]
    for case in cases:
        ends = f"{case.departure}–{case.destination}"
        parts.append(f"<h4>{make_safe(f'{case.name}  {ends}')}</h4>\n<p class='words'>{make_safe(case.route)}</p>\n")
        if case.name in pictures:
            parts.append(make_picture(pictures[case.name], case.name, width_px))
        parts.append(f"<p>{_LINE}</p>\n")
    return _page("Drill", parts)


def write_paper_key(cases: Iterable[DrillCase]) -> str:
    """The truth of each route, with why people make that error and where that was reported."""
    return _page("Drill: answer key", (_describe_truth(case) for case in cases))


def write_marks_page(marks: Mapping[str, Sequence[Mark]], overview: str) -> str:
    """The score sheets of all trainees, then the class by kind of error."""
    parts = []
    for trainee, of_trainee in marks.items():
        rows = "".join(
            f"<tr>{''.join(f'<td>{make_safe(str(cell))}</td>' for cell in _mark_cells(mark))}</tr>\n"
            for mark in of_trainee
        )
        heads = "".join(f"<th>{head}</th>" for head in _MARK_HEADS)
        parts.append(f"<h4>{make_safe(trainee)}</h4>\n<table cellspacing='0'><tr>{heads}</tr>\n{rows}</table>\n")
    parts += [f"<p>{make_safe(line)}</p>\n" for line in overview.splitlines()]
    return _page("Drill: marks", parts)


def _mark_cells(mark: Mark) -> tuple[object, ...]:
    return mark.case.name, mark.case.kind, mark.place, mark.kind, mark.correction, -mark.reveals, mark.total


def _describe_truth(case: DrillCase) -> str:
    head = f"<h4>{make_safe(case.name)}</h4>\n"
    if case.kind == CLEAN:
        odd = ": it looks odd and is right" if case.looks_odd else ""
        return f"{head}<p>Clean{odd}. {make_safe(case.sentence)}</p>\n"
    kind = ERROR_KINDS[case.kind]
    source = f" ({cite(kind.citation)})" if kind.citation else ""
    truth = f"{' '.join(case.words)}: {case.kind}; meant: {case.correction}. {case.sentence or kind.why}{source}"
    return f"{head}<p>{make_safe(truth)}</p>\n<p class='words'>{make_safe(case.meant)}</p>\n"


def _page(title: str, parts: Iterable[str]) -> str:
    return (
        f'<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8"><title>{title}</title>\n'
        f"<style>\n{_STYLE}</style></head>\n<body>\n<h3>{title}</h3>\n{''.join(parts)}</body>\n</html>\n"
    )
