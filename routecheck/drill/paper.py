"""A drill on paper: the hand-out, the sheets that are revealed, the answer key, the marks, as HTML for pages."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from routecheck.drill.class_overview import (
    KIND_HEADS,
    TRAINEE_HEADS,
    kind_cells,
    minutes_and_seconds,
    sum_by_kind,
    sum_by_trainee,
    trainee_cells,
)
from routecheck.drill.difficulty import DIFFICULTIES
from routecheck.drill.entered_legs import FIGURE_HEADS, figure_rows, total_line
from routecheck.drill.error_kinds import ERROR_KINDS
from routecheck.drill.marking import REVEAL
from routecheck.drill.truth import tell_truth
from routecheck.report.html_text import make_picture, make_safe

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

    from routecheck.drill.cases import DrillCase
    from routecheck.drill.marking import Mark
    from routecheck.model import Assessment, RouteInput

_STYLE = """\
body { font-family: sans-serif; font-size: 10px; color: #000; }
h3 { font-size: 14px; margin: 0 0 4px 0; }
h4 { font-size: 11px; margin: 12px 0 2px 0; }
p { margin: 2px 0; }
table { border-collapse: collapse; }
th, td { border: 1px solid #999; padding: 0 4px; text-align: left; }
.words { font-family: monospace; font-size: 12px; }
.columns > td { border: none; vertical-align: top; }
"""
_ASKED = (
    "Each route was cleared as it stands under “Cleared” and entered as it stands under “Entered”. Some were entered "
    "with one error, some are in order, and some of these look odd. For each: the wrong word or leg, the kind of "
    "error, what was meant; or “clean”."
)
_MARK_HEADS = "route", "error", "place", "kind", "correction", "reveals", "of 100", "time"
_LEGS_IN_COLUMN = 8
_LINE = "Word: ____________________  Kind: ______________________________  Meant: ____________________"


class Revealed(NamedTuple):
    """What the tool shows of a route as entered: its picture (PNG, without a mark) and what it is reckoned from."""

    picture: bytes
    answer: Assessment


def write_hand_out(cases: Sequence[DrillCase], shown: Mapping[str, Revealed], width_px: int) -> str:
    """The routes as trainees see them, with what their difficulty shows. `shown` is by the name of a case."""
    parts = [f"<p>{make_safe(_ASKED)}</p>\n", _write_kinds()]
    if any(_hides(case) for case in cases):
        asked = f"What is hidden is shown on request; picture and figures cost {REVEAL} marks each."
        parts.append(f"<p>{make_safe(asked)}</p>\n")
    for case in cases:
        difficulty = DIFFICULTIES[case.difficulty]
        parts.append(f"{_write_head(case)}<p>Cleared: <b>{make_safe(case.clearance)}</b></p>\n<p>Entered:</p>\n")
        parts.append(_write_entry(case))
        if case.name in shown:
            parts += _write_shown(case, shown[case.name], difficulty.shows_picture, difficulty.shows_figures, width_px)
        parts.append(f"<p>{_LINE}{'  Reveals: ____' * bool(_hides(case))}</p>\n")
    return _page("Drill", parts)


def write_reveals(cases: Sequence[DrillCase], shown: Mapping[str, Revealed], width_px: int) -> str:
    """What the hand-out hides, for the instructor to show a trainee who asks for it; "" where it hides nothing."""
    parts = []
    for case in filter(_hides, cases):
        difficulty = DIFFICULTIES[case.difficulty]
        parts.append(_write_head(case))
        parts += _write_shown(
            case, shown[case.name], not difficulty.shows_picture, not difficulty.shows_figures, width_px
        )
    return _page("Drill: pictures and figures on request", parts) if parts else ""


def write_paper_key(cases: Iterable[DrillCase], assess: Callable[[RouteInput], Assessment]) -> str:
    """The truth of each route, what the tool says of it, why people make that error and where that was reported."""
    parts = []
    for case in cases:
        lines = "".join(f"<p>{make_safe(line)}</p>\n" for line in tell_truth(case, assess).lines)
        parts.append(f"<h4>{make_safe(case.name)}</h4>\n{lines}<p class='words'>{make_safe(case.meant)}</p>\n")
    return _page("Drill: answer key", parts)


def write_marks_page(marks: Mapping[str, Sequence[Mark]]) -> str:
    """The class by trainee and by kind of error, then the score sheet of each trainee."""
    trainees = [trainee_cells(one) for one in sum_by_trainee(marks)]
    kinds = [kind_cells(one) for one in sum_by_kind(marks)]
    parts = ["<h4>By trainee</h4>\n", _write_table(TRAINEE_HEADS, trainees)]
    parts += ["<h4>By kind of error, averages</h4>\n", _write_table(KIND_HEADS, kinds)]
    for trainee, of_trainee in marks.items():
        parts += [f"<h4>{make_safe(trainee)}</h4>\n", _write_table(_MARK_HEADS, map(_mark_cells, of_trainee))]
    return _page("Drill: marks", parts)


def _write_kinds() -> str:
    kinds = "; ".join(f"<b>{make_safe(kind.name)}</b>: {make_safe(kind.meaning)}" for kind in ERROR_KINDS.values())
    return f"<p>Kinds: {kinds}.</p>\n"


def _hides(case: DrillCase) -> bool:
    difficulty = DIFFICULTIES[case.difficulty]
    return not (difficulty.shows_picture and difficulty.shows_figures)


def _write_head(case: DrillCase) -> str:
    return f"<h4>{make_safe(f'{case.name}  {case.ends}')}</h4>\n"


def _write_entry(case: DrillCase) -> str:
    if not case.legs:
        return f"<p class='words'>{make_safe(' '.join(case.shown_words))}</p>\n"
    rows = [("", case.departure), *case.legs]
    columns = [rows[start : start + _LEGS_IN_COLUMN] for start in range(0, len(rows), _LEGS_IN_COLUMN)]
    tables = "".join(f"<td>{_write_table(('by', 'to'), column)}</td>" for column in columns)
    return f"<table class='columns' cellspacing='4'><tr>{tables}</tr></table>\n"


def _write_shown(
    case: DrillCase, shown: Revealed, has_picture: bool, has_figures: bool, width_px: int
) -> Iterator[str]:
    if has_picture:
        yield make_picture(shown.picture, case.name, width_px)
    if has_figures:
        yield _write_table(FIGURE_HEADS, figure_rows(shown.answer))
        yield f"<p>{make_safe(total_line(shown.answer))}</p>\n"


def _write_table(heads: Sequence[str], rows: Iterable[Sequence[object]]) -> str:
    head = "".join(f"<th>{make_safe(one)}</th>" for one in heads)
    body = "".join(f"<tr>{''.join(f'<td>{make_safe(str(cell))}</td>' for cell in row)}</tr>\n" for row in rows)
    return f"<table cellspacing='0'><tr>{head}</tr>\n{body}</table>\n"


def _mark_cells(mark: Mark) -> tuple[object, ...]:
    time = minutes_and_seconds(mark.given.seconds) if mark.given and mark.given.seconds else ""
    cells = mark.case.name, mark.case.kind, mark.place, mark.kind, mark.correction, -mark.reveals, mark.total
    return (*cells, time)


def _page(title: str, parts: Iterable[str]) -> str:
    return (
        f'<!doctype html>\n<html lang="en">\n<head><meta charset="utf-8"><title>{title}</title>\n'
        f"<style>\n{_STYLE}</style></head>\n<body>\n<h3>{title}</h3>\n{''.join(parts)}</body>\n</html>\n"
    )
