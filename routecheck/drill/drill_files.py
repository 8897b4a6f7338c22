"""The files of a drill: routes.csv for the trainee, answers.jsonl (the key), drill.toml (how it was made), marks."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING

import tomlkit

from routecheck.drill.cases import BESIDE, DrillCase, read_case, write_case
from routecheck.drill.class_overview import KIND_HEADS, kind_cells, sum_by_kind
from routecheck.drill.difficulty import DIFFICULTIES
from routecheck.drill.error_kinds import CLEAN, ERROR_KINDS
from routecheck.drill.making import DrillOrder
from routecheck.drill.marking import REVEAL, TraineeAnswer
from routecheck.faults import UsageError
from routecheck.formatting import listing
from routecheck.report.csv_rows import guard

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence
    from pathlib import Path

    from routecheck.drill.marking import Mark

ROUTES, KEY, SETTINGS = "routes.csv", "answers.jsonl", "drill.toml"
SCHEMA = 1
_ANSWERS = "name", "word", "kind", "correction"
_NUMBERS = "reveals", "seconds"


def write_routes(cases: Iterable[DrillCase]) -> str:
    """The routes as they are shown: the clearance, and as `route` what was entered. Nothing else of their truth."""
    rows = [("name", "departure", "destination", *BESIDE, "route", "clearance")]
    for case in cases:
        beside = (getattr(case, name) for name in BESIDE)
        rows.append((case.name, case.departure, case.destination, *beside, case.entered, case.clearance))
    return _write_rows(rows)


def write_key(cases: Iterable[DrillCase]) -> str:
    """The truth, a line a route."""
    return "".join(f"{write_case(case)}\n" for case in cases)


def read_key(text: str, name: str) -> list[DrillCase]:
    """Read an answer key. Raises UsageError with the line that is none."""
    cases = []
    for number, line in enumerate(text.splitlines(), start=1):
        try:
            cases += [read_case(line)] if line.strip() else []
        except (ValueError, RecursionError) as error:
            raise UsageError(f"{name}, line {number}: no line of an answer key: {error}") from None
    if not cases:
        raise UsageError(f"{name} holds no answers")
    return cases


def write_settings(order: DrillOrder, made: int, sources: Sequence[str]) -> str:
    """How the drill was made, and what of each route is shown."""
    document = tomlkit.document()
    difficulty, at_a_cost = DIFFICULTIES[order.difficulty], f"hidden, shown for {REVEAL} marks"
    values = {"schema": SCHEMA, "seed": order.seed, "count": order.count, "made": made, "difficulty": order.difficulty}
    shown = {
        "clearance": difficulty.clearance.value,
        "entry": "legs" if difficulty.shows_legs else "words",
        "picture": "shown" if difficulty.shows_picture else at_a_cost,
        "figures": "shown" if difficulty.shows_figures else at_a_cost,
    }
    for key, value in {**values, **shown, "from": list(sources)}.items():
        document[key] = value
    if order.mix:
        document["mix"] = dict(order.mix)
    return tomlkit.dumps(document)


def read_settings(text: str, name: str) -> tuple[DrillOrder, list[str]]:
    """Read how a drill was made, and the names of what it was made from. Raises UsageError with what is wrong."""
    try:
        values = tomlkit.parse(text).unwrap()
        mix = {kind: float(weight) for kind, weight in values.get("mix", {}).items()}
        seed, amount, difficulty = (int(values[key]) for key in ("seed", "count", "difficulty"))
        origin = [str(one) for one in values.get("from", [])]
    except (ValueError, KeyError, TypeError, AttributeError) as error:
        raise UsageError(f"{name} does not say how a drill was made: {error}") from None
    if difficulty not in DIFFICULTIES or mix.keys() - {*ERROR_KINDS, CLEAN}:
        raise UsageError(f"{name} asks for a difficulty or kind of error that there is not")
    return DrillOrder(seed=seed, count=amount, difficulty=difficulty, mix=mix), origin


def read_trainee_answers(text: str, name: str) -> list[TraineeAnswer]:
    """Read answers: CSV with the columns name, word, kind, correction, and trainee, reveals, seconds where they are.

    Raises UsageError where these columns are not there.
    """
    rows = csv.DictReader(io.StringIO(text), strict=False)
    heads = [(head or "").strip().casefold() for head in rows.fieldnames or ()]
    if lacking := [column for column in _ANSWERS if column not in heads]:
        raise UsageError(f"{name} has no column {listing(lacking)}: answers have the columns {listing(_ANSWERS)}")
    given = []
    for row in rows:
        found = {(head or "").strip().casefold(): value for head, value in row.items() if isinstance(value, str)}
        texts = {column: found.get(column, "").strip() for column in (*_ANSWERS, "trainee")}
        reveals, seconds = (_read_number(found.get(column, "")) for column in _NUMBERS)
        given.append(TraineeAnswer(**texts, reveals=reveals, seconds=seconds))
    return given


def _read_number(text: str) -> int:
    return int(text) if text.strip().isdecimal() and len(text) < 10 else 0


def write_trainee_answers(given: Iterable[TraineeAnswer]) -> str:
    """Answers as they are handed in, in the columns in which they are read."""
    rows: list[Sequence[object]] = [(*_ANSWERS, "trainee", *_NUMBERS)]
    rows += [(one.name, one.word, one.kind, one.correction, one.trainee, one.reveals, one.seconds) for one in given]
    return _write_rows(rows)


def write_marks(marks: Mapping[str, Sequence[Mark]]) -> str:
    """The score sheet: a row for each route of each trainee."""
    heads = (
        "trainee",
        "name",
        "kind",
        "said",
        "place",
        "kind_marks",
        "correction",
        "reveals",
        "total",
        "seconds",
        "meant",
    )
    rows: list[Sequence[object]] = [heads]
    for trainee, of_trainee in marks.items():
        for mark in of_trainee:
            said = describe_given(mark)
            seconds = mark.given.seconds if mark.given else 0
            row = mark.place, mark.kind, mark.correction, -mark.reveals, mark.total, seconds
            rows.append((trainee, mark.case.name, mark.case.kind, said, *row, mark.case.correction))
    return _write_rows(rows)


def write_class(marks: Mapping[str, Sequence[Mark]]) -> str:
    """The class by kind of error."""
    return _write_rows([KIND_HEADS, *(kind_cells(one) for one in sum_by_kind(marks))])


def write_mark_sheets(path: Path, marks: Mapping[str, Sequence[Mark]]) -> dict[str, str]:
    """The score sheet under the name of a file, and the class by kind of error under one beside it."""
    return {path.name: write_marks(marks), f"{path.stem}-by-kind{path.suffix}": write_class(marks)}


def describe_given(mark: Mark) -> str:
    """What a trainee said of a route, in a line."""
    if mark.given is None:
        return "nothing"
    if mark.given.calls_it_clean:
        return CLEAN
    return f"{mark.given.word}: {', '.join(filter(None, (mark.given.kind, mark.given.correction)))}"


def _write_rows(rows: Iterable[Sequence[object]]) -> str:
    out = io.StringIO()
    for row in rows:
        cells = (guard(" ".join(cell.splitlines())) if isinstance(cell, str) else cell for cell in row)
        csv.writer(out, lineterminator="\n").writerow(cells)
    return out.getvalue()
