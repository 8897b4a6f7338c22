"""The findings of a worklist that somebody answers for, kept beside it in `NAME.accepted.jsonl`: a line each."""

from __future__ import annotations

import json
import os
from dataclasses import asdict, fields
from typing import TYPE_CHECKING

from routecheck import files
from routecheck.formatting import listing
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Accepted

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from routecheck.report.route_row import RowFinding
    from routecheck.worklist.rows import WorklistRow

SUFFIX = ".accepted.jsonl"
_MOST_NAMED = 5


@dataclass(frozen=True, slots=True, kw_only=True)
class RouteAcceptance:
    """An accepted finding and the route that it was found in."""

    route: str
    check: str
    words: str
    finding: str
    """What it said then: an acceptance holds for no other sentence."""
    reason: str
    by: str
    at: str
    """A time in UTC, "2026-12-03T14:30:00Z"."""


class AcceptanceFile:
    """The acceptances beside a list. What another program adds meanwhile stays: a line is only ever added."""

    def __init__(self, worklist: Path) -> None:
        self.path = worklist.with_name(worklist.name + SUFFIX)
        self._known: dict[tuple[str, str, str], RouteAcceptance] = {}
        self.unread: tuple[int, ...] = ()
        """The lines that are no acceptances."""

    @property
    def remark(self) -> str:
        """Which lines could not be used; "" where all could."""
        if not self.unread:
            return ""
        named = [f"{line:,}" for line in self.unread[:_MOST_NAMED]]
        more = [f"{len(self.unread) - _MOST_NAMED:,} more"] if len(self.unread) > _MOST_NAMED else []
        return f"{self.path.name}: no acceptance can be read in line {listing([*named, *more])}. They stay in the file."

    def read(self) -> None:
        """Read what was accepted before; of two for the same finding the later. Raises OSError but for no file."""
        try:
            text = files.read_bytes(self.path).decode(errors="replace")
        except FileNotFoundError:
            return
        unread = []
        for number, line in enumerate(text.split("\n"), start=1):
            if not line.strip():
                continue
            if one := _read_line(line):
                self._known[one.route, one.check, one.words] = one
            else:
                unread.append(number)
        self.unread = tuple(unread)

    def add(self, row: WorklistRow, finding: RowFinding, *, reason: str, by: str, at: str) -> None:
        """Accept a finding of a row. Raises OSError, and then nothing is accepted."""
        one = RouteAcceptance(
            route=row.key,
            check=finding.check,
            words=finding.whole_words,
            finding=finding.message,
            reason=reason,
            by=by,
            at=at,
        )
        with files.locked_folder(self.path.parent), self.path.open("ab+") as stream:
            line = json.dumps(asdict(one), ensure_ascii=False) + "\n"
            stream.write(b"\n" * _lacks_line_end(stream.seek(0, os.SEEK_END), self.path) + line.encode())
        self._known[one.route, one.check, one.words] = one

    def find(self, row: WorklistRow, finding: RowFinding) -> RouteAcceptance | None:
        """The acceptance of a finding at a route; None where there is none, or the finding says otherwise by now."""
        one = self._known.get((row.key, finding.check, finding.whole_words))
        return one if one and one.finding == finding.message else None

    def open_findings(self, row: WorklistRow) -> tuple[RowFinding, ...]:
        """The findings of a row that nobody answers for."""
        return tuple(finding for finding in row.route.findings if not self.find(row, finding))

    def of_row(self, row: WorklistRow) -> tuple[Accepted, ...]:
        """The acceptances of a row as a route input carries them."""
        return tuple(_as_accepted(found for finding in row.route.findings if (found := self.find(row, finding))))


def _as_accepted(found: Iterable[RouteAcceptance]) -> Iterable[Accepted]:
    for one in found:
        yield Accepted(one.check, one.words, one.reason, one.by, at=one.at, finding=one.finding)


def _read_line(line: str) -> RouteAcceptance | None:
    names = {one.name for one in fields(RouteAcceptance)}
    try:
        values = json.loads(line)
    except (ValueError, RecursionError):
        return None
    if not isinstance(values, dict) or not all(isinstance(values.get(name), str) for name in names):
        return None
    return RouteAcceptance(**{name: values[name] for name in names})


def _lacks_line_end(size: int, path: Path) -> bool:
    """Whether a file ends in the midst of a line, as one does whose program was killed."""
    if not size:
        return False
    with path.open("rb") as stream:
        stream.seek(-1, os.SEEK_END)
        return stream.read(1) != b"\n"
