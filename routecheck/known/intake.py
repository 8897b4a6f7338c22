"""A file of known routes to rows that can be counted; what cannot be is counted too, and why. Nothing is kept here."""

from __future__ import annotations

from collections import Counter
from dataclasses import KW_ONLY, dataclass, field
from typing import TYPE_CHECKING

from routecheck.faults import describe_failure
from routecheck.known.aerodromes import settle_aerodromes
from routecheck.known.collection import About, KnownRow
from routecheck.known.list_rows import read_list_rows
from routecheck.known.word_sequence import UNCOUNTED, word_sequence
from routecheck.model import RouteInput, Weight
from routecheck.reading.off_block import read_day
from routecheck.reading.route_text import read_route
from routecheck.reading.row_columns import normalise_title
from routecheck.resolution.resolve import resolve

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Callable, Iterable, Iterator

    from routecheck.model import Assessment, ResolvedRoute
    from routecheck.navdata.database import NavDatabase

    Judge = Callable[[Iterable[RouteInput]], Iterator[Assessment]]

_TIMES = ("count", "times", "flown", "flights")
_VALID_FROM = ("valid_from", "effective", "effective_date", "start_date")
_VALID_UNTIL = ("valid_until", "valid_to", "expires", "end_date")
_READ_COLUMNS = frozenset((*_TIMES, *_VALID_FROM, *_VALID_UNTIL))
MOST_NAMED = 100
"""So many rows that are not counted are named with their reasons; of more only the number is known."""
_OUTDATED = "it is valid on other days only"
_UNRESOLVED = "nothing of it is in the navigation data"


@dataclass(frozen=True, slots=True)
class UncountedRow:
    """A row that is not among the known routes, or should perhaps not be, and why."""

    line: int | None
    route: str
    because: str


@dataclass(slots=True)
class Intake:
    """What a file was found to hold. `wrong` are rows that are counted although something of them is Wrong."""

    name: str
    rows: list[KnownRow] = field(default_factory=list)
    _: KW_ONLY
    counted: Counter[str] = field(default_factory=Counter)
    """How many rows were "unread", "outdated", "unresolved"."""
    uncounted: list[UncountedRow] = field(default_factory=list)
    wrong: dict[int, UncountedRow] = field(default_factory=dict)
    """By their places in `rows`."""
    columns: dict[str, None] = field(default_factory=dict)
    left_out: int = 0

    def without_wrong(self) -> Intake:
        """The same without the rows of which something is Wrong."""
        kept = [row for place, row in enumerate(self.rows) if place not in self.wrong]
        return Intake(
            self.name,
            kept,
            counted=self.counted,
            uncounted=self.uncounted,
            columns=self.columns,
            left_out=len(self.wrong),
        )

    def about(self, routes: int, added: str = "") -> About:
        """What is to be said of it as a collection of so many known routes."""
        return About(
            name=self.name,
            routes=routes,
            rows=len(self.rows) + self.left_out + sum(self.counted.values()),
            unread=self.counted["unread"],
            unresolved=self.counted["unresolved"],
            outdated=self.counted["outdated"],
            left_out=self.left_out,
            columns=tuple(self.columns),
            added=added,
        )


def take_in_files(
    files: Iterable[tuple[str, bytes]],
    intake: Intake,
    database: NavDatabase,
    today: dt.date,
    *,
    judge: Judge | None = None,
) -> Iterator[None]:
    """Read several files, each a name and its content, into one intake, as `take_in` does one."""
    for name, data in files:
        yield from take_in(data, intake, database, today, judge=judge, file=name)


def take_in(
    data: bytes, intake: Intake, database: NavDatabase, today: dt.date, *, judge: Judge | None = None, file: str = ""
) -> Iterator[None]:
    """Read a file of known routes into an intake, row by row, so that the caller sees how far it is and may stop.

    With `judge` every row is assessed too, and those with something Wrong are named. Whatever raises on a row costs
    that row. `file` is its name where the intake is not named after it.
    """
    usable = _usable_rows(read_list_rows(data, file or intake.name), intake, database, today)
    judged = _judge_each(usable, judge) if judge else _resolve_each(usable, database, today)
    for given, times, resolved, wrong in judged:
        _add_row(intake, given, times, resolved, wrong)
        yield


_Resolved = tuple[RouteInput, int | None, "ResolvedRoute | Exception", str]
"""A row, how often it says it was flown, what it resolves to, and what of it is Wrong."""


def _judge_each(usable: Iterable[tuple[RouteInput, int | None]], judge: Judge) -> Iterator[_Resolved]:
    waiting: list[int | None] = []

    def inputs() -> Iterator[RouteInput]:
        for given, times in usable:
            waiting.append(times)
            yield given

    for assessment in judge(inputs()):
        wrong = next((one.message for one in assessment.findings if one.weight is Weight.WRONG), assessment.failure)
        yield assessment.route.route_input, waiting.pop(0), assessment.route.resolved, wrong


def _resolve_each(
    usable: Iterable[tuple[RouteInput, int | None]], database: NavDatabase, today: dt.date
) -> Iterator[_Resolved]:
    for given, times in usable:
        try:
            resolved: ResolvedRoute | Exception = resolve(read_route(given), database, today)
        except Exception as error:
            resolved = error
        yield given, times, resolved, ""


def _add_row(
    intake: Intake, given: RouteInput, times: int | None, resolved: ResolvedRoute | Exception, wrong: str
) -> None:
    if isinstance(resolved, Exception):
        _leave_out(intake, given, "unread", describe_failure(resolved))
        return
    if not _is_resolved(resolved):
        _leave_out(intake, given, "unresolved", _UNRESOLVED)
        return
    if wrong:
        intake.wrong[len(intake.rows)] = UncountedRow(given.origin.line, given.route, wrong)
    sequence = [word.text for word in word_sequence(resolved)]
    intake.rows.append(
        KnownRow(
            departure=sequence[0],
            destination=sequence[-1],
            words=" ".join(sequence[1:-1]),
            text=" ".join(given.route.split()),
            name=given.name if given.title else "",
            line=given.origin.line,
            times=times,
        )
    )


def _leave_out(intake: Intake, given: RouteInput, kind: str, because: str) -> None:
    intake.counted[kind] += 1
    if len(intake.uncounted) < MOST_NAMED:
        intake.uncounted.append(UncountedRow(given.origin.line, given.route or _name_without_line(given), because))


def _name_without_line(given: RouteInput) -> str:
    return given.name if given.origin.line is None else ""


def _is_resolved(resolved: ResolvedRoute) -> bool:
    """Whether both aerodromes have names, and something between them has a place; where nothing stands there, both."""
    first, *between, last = resolved.route_points
    if not (first.text and last.text) or any(one.text.startswith(UNCOUNTED) for one in (first, last)):
        return False
    named = [point for point in between if not point.implied]
    return any(point.place for point in named) if named else first.place is not None and last.place is not None


# ---- rows


def _usable_rows(
    rows: Iterable[RouteInput], intake: Intake, database: NavDatabase, today: dt.date
) -> Iterator[tuple[RouteInput, int | None]]:
    """The rows that can be read and are valid that day, with their aerodromes settled; the others are counted."""
    for given in rows:
        columns = {normalise_title(title): text for title, text in given.origin.columns}
        intake.columns |= {title: None for title, _ in given.origin.columns if not _is_read(title)}
        if given.unread:
            _leave_out(intake, given, "unread", given.unread)
        elif not _is_valid(columns, today):
            _leave_out(intake, given, "outdated", _OUTDATED)
        else:
            yield settle_aerodromes(given, database), _read_times(columns)


def _is_read(title: str) -> bool:
    return normalise_title(title) in _READ_COLUMNS


def _first_of(columns: dict[str, str], names: tuple[str, ...]) -> str:
    return next((columns[name] for name in names if columns.get(name)), "")


def _read_times(columns: dict[str, str]) -> int | None:
    text = _first_of(columns, _TIMES)
    return max(1, min(int(text), 1_000_000)) if text.isascii() and text.isdecimal() else None


def _is_valid(columns: dict[str, str], today: dt.date) -> bool:
    """Whether the day lies within the days of a row; a day that cannot be read says nothing."""
    since, _ = read_day(_first_of(columns, _VALID_FROM))
    until, _ = read_day(_first_of(columns, _VALID_UNTIL))
    return (since is None or since <= today) and (until is None or today <= until)
