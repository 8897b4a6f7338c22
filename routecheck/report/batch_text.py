"""Many routes as text that a person reads: what several of them share is said once, what is in order is only counted.

Findings of one check at the same words with the same cure are one entry, worded as at its first route.
"""

from __future__ import annotations

import math
import textwrap
from collections import Counter
from dataclasses import KW_ONLY, dataclass, field
from typing import TYPE_CHECKING, TypeVar

from routecheck.formatting import count, listing, short
from routecheck.model import Weight
from routecheck.presentation.changes import pending_changes_line
from routecheck.presentation.comparison import comparison_sentences
from routecheck.presentation.headline import headline, input_remarks
from routecheck.presentation.verdict import WEIGHT_MARKS, WEIGHT_NAMES, count_by_weight, is_fully_checked
from routecheck.report.checked_parts import is_nothing_checked
from routecheck.report.route_names import name_among_many

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from routecheck.model import Assessment, Finding
    from routecheck.report.output_options import OutputOptions

_MOST_NAMED = 4
"""How many routes of an entry are named; the others are counted."""
_MOST_DOUBTFUL = 5
"""How many Doubtful entries of a check are listed, those of most routes, of many where the user chose nothing."""
_MANY = 60
"""More entries than this fit on no two screens (our choice)."""
_MOST_REASONS = 5
"""How many reasons for stretches that were not checked are named."""
_BETWEEN = " … "
"""Stands between the words that a finding flags."""
_USUAL_LEAST = Weight.DOUBTFUL
_SHARED_BY = 0.5
"""What more than this share of all routes has holds for the run as a whole (our choice)."""

_FEW = 2
"""So few routes are no run that anything holds for as a whole."""

_Key = tuple[Weight, str, str, str]
_AnyKey = TypeVar("_AnyKey")


@dataclass(slots=True)
class _Entry:
    """A finding with the routes that have it; `message` and `cure` as at the first of them."""

    message: str
    cure: str
    _: KW_ONLY
    routes: int = 0
    times: int = 0
    """How often it was said: a route may have it twice."""
    names: list[str] = field(default_factory=list)
    _last: str = ""
    varies: bool = False
    """Whether another route says it in other words or figures."""

    def add(self, name: str, message: str) -> None:
        self.times += 1
        self.varies |= message != self.message
        if name == self._last:
            return
        self._last = name
        self.routes += 1
        if len(self.names) < _MOST_NAMED:
            self.names.append(name)

    def merge(self, later: _Entry) -> None:
        self.routes += later.routes
        self.times += later.times
        self.varies |= later.varies or later.message != self.message
        self.names += later.names[: _MOST_NAMED - len(self.names)]

    @property
    def where(self) -> str:
        """The routes that have it, the first by name."""
        more = self.routes - len(self.names)
        names = listing([*self.names, f"{more:,} more"] if more else self.names)
        if self.routes == 1:
            return f"{names} (more than one of the kind)" if self.varies else names
        return f"{self.routes:,} routes{', worded as for the first' if self.varies else ''}: {names}"


class BatchReport:
    """Takes the answers of a run one by one, then writes what there is to say about all of them."""

    def __init__(self, options: OutputOptions, first_file: str) -> None:
        self._options = options
        self._first_file = first_file
        self._entries: dict[_Key, _Entry] = {}
        self._hidden: Counter[Weight] = Counter()
        self._by_check: dict[str, Counter[Weight]] = {}
        self._remarks: dict[str, _Entry] = {}
        self._lost: Counter[str] = Counter()
        self._in_part = 0
        self._routes = 0

    def add(self, assessment: Assessment) -> None:
        """Take the answer about one route. Nothing is written yet."""
        self._routes += 1
        name = name_among_many(assessment, self._first_file)
        for finding in assessment.findings:
            self._count(finding)
            self._add_finding(assessment, finding, name)
        for key, sentence in _remarks(assessment):
            self._remarks.setdefault(key, _Entry(sentence, "")).add(name, sentence)
        if not is_fully_checked(assessment) and not assessment.route.route_input.is_routeless:
            self._in_part += 1
            self._lost.update({part.because: 1 for part in headline(assessment).lost})

    def merge(self, later: BatchReport) -> None:
        """Take what was found on later routes."""
        _merge_entries(self._entries, later._entries)
        _merge_entries(self._remarks, later._remarks)
        for check, counts in later._by_check.items():
            self._by_check.setdefault(check, Counter()).update(counts)
        self._hidden.update(later._hidden)
        self._lost.update(later._lost)
        self._in_part += later._in_part
        self._routes += later._routes

    def write(self) -> Iterator[str]:
        """Write it all: findings, what holds for the run, what was not checked, counts by check."""
        entries = sorted(self._entries.items(), key=lambda item: (_order(item[0][0]), -item[1].routes))
        yield from self._write_entries([(key, one) for key, one in entries if self._is_shown(key, one)])
        yield from (self._write_shared(key, one) for key, one in entries if self._is_shared(key, one))
        yield from (self._write_remark(one) for one in self._remarks.values())
        yield from self._write_lost()
        yield from self._write_counts()

    def _count(self, finding: Finding) -> None:
        self._by_check.setdefault(finding.check, Counter())[finding.weight] += 1

    def _add_finding(self, assessment: Assessment, finding: Finding, name: str) -> None:
        if not self._options.shows(finding):
            self._hidden[finding.weight] += 1
            return
        flagged = flagged_words(assessment, finding)
        cure = finding.likely_intended[0] if finding.likely_intended else None
        key = (finding.weight, finding.check, flagged, f"{cure.new} {cure.beside}" if cure else "")
        is_in_message = cure and cure.new and cure.new in finding.message
        entry = self._entries.setdefault(key, _Entry(finding.message, cure.why if cure and not is_in_message else ""))
        entry.add(name, finding.message)

    def _is_shown(self, key: _Key, entry: _Entry) -> bool:
        return _order(key[0]) <= _order(self._options.least or _USUAL_LEAST) and not self._is_shared(key, entry)

    def _is_shared(self, key: _Key, entry: _Entry) -> bool:
        """Whether a finding without a word of its own holds for the run as a whole. What is Wrong names its routes."""
        is_of_run = not key[2] and key[0] is not Weight.WRONG
        return is_of_run and self._routes > _FEW and entry.routes > self._routes * _SHARED_BY

    def _write_shared(self, key: _Key, entry: _Entry) -> str:
        whole = "all" if entry.routes == self._routes else f"{entry.routes:,} of"
        return self._fill(f"{_mark(key)} on {whole} {self._routes:,} routes: {entry.message} [{key[1]}]", 4)

    def _write_entries(self, entries: Sequence[tuple[_Key, _Entry]]) -> Iterator[str]:
        """Every entry; of many the first Doubtful ones of a check, unless the user chose what is shown."""
        listed_most = math.inf if self._options.chooses or len(entries) <= _MANY else _MOST_DOUBTFUL
        listed: Counter[str] = Counter()
        more: dict[str, list[tuple[_Key, _Entry]]] = {}
        for key, one in entries:
            weight, check, *_ = key
            listed[check] += weight is Weight.DOUBTFUL
            if weight is Weight.DOUBTFUL and listed[check] > listed_most:
                more.setdefault(check, []).append((key, one))
            else:
                yield self._write_entry(key, one)
        for check, rest in more.items():
            if len(rest) == 1:
                yield self._write_entry(*rest[0])
                continue
            routes = count(sum(one.routes for _, one in rest), "route")
            found = f"{len(rest):,} more findings on {routes}: --only {check} lists them"
            yield self._fill(f"{_mark(rest[0][0])}: {found}.", 4)

    def _write_entry(self, key: _Key, entry: _Entry) -> str:
        _, check, flagged, _ = key
        words = "" if all(one in entry.message for one in flagged.split(_BETWEEN)) else f"{flagged}: "
        head = f"{_mark(key)}: {words}{entry.message} [{check}]"
        if entry.routes == 1 and not entry.cure:
            return self._fill(f"{head} {entry.where}", 4)
        lines = [self._fill(head, 4)]
        lines += [self._fill(f"    likely intended: {entry.cure}", 6)] if entry.cure else []
        return "".join([*lines, self._fill(f"    {entry.where}", 6)])

    def _write_remark(self, entry: _Entry) -> str:
        return self._fill(f"{entry.message} {entry.where}", 4)

    def _write_lost(self) -> Iterator[str]:
        if not self._in_part:
            return
        named = [f"{because} ({n:,})" for because, n in self._lost.most_common(_MOST_REASONS)]
        if more := len(self._lost) - len(named):
            named.append(f"{count(more, 'other reason')}")
        because = f": {'; '.join(named)}" if named else ""
        yield "\n" + self._fill(f"{count(self._in_part, 'route')} not checked in full{because}.", 4)

    def _write_counts(self) -> Iterator[str]:
        if self._by_check:
            rows = sorted(self._by_check.items(), key=lambda row: tuple(-row[1][weight] for weight in Weight))
            yield "\n" + self._fill(f"Findings by check: {'; '.join(f'{c} {count_by_weight(n)}' for c, n in rows)}.", 4)
        hidden = Counter(self._hidden)
        for key, entry in self._entries.items():
            if not self._is_shown(key, entry) and not self._is_shared(key, entry):
                hidden[key[0]] += entry.times
        if hidden:
            yield self._fill(
                f"Not shown: {count_by_weight(hidden)} (--least, --only, --without choose, --all shows each route).", 4
            )

    def _fill(self, text: str, indent: int) -> str:
        return textwrap.fill(text, self._options.width, subsequent_indent=" " * indent, break_on_hyphens=False) + "\n"


def _merge_entries(entries: dict[_AnyKey, _Entry], later: dict[_AnyKey, _Entry]) -> None:
    for key, entry in later.items():
        if key in entries:
            entries[key].merge(entry)
        else:
            entries[key] = entry


def _remarks(assessment: Assessment) -> Iterator[tuple[str, str]]:
    """What stands beside the findings of a route, each with a key under which routes are put together."""
    head, route = headline(assessment), assessment.route
    if route.route_input.is_routeless:
        yield route.route_input.unread, f"No route to check: {route.route_input.unread}."
    if is_nothing_checked(assessment) and not route.route_input.unread:
        yield "nothing", head.coverage or head.verdict_line
    if head.failure_sentence:
        yield "failure", head.failure_sentence
    yield from ((text, text) for text in route.own_mistakes)
    if head.beyond_sight:
        yield "beyond sight", head.beyond_sight
    if changed := pending_changes_line(route.route_input.changed):
        yield changed, changed
    yield from ((f"not used: {one.what}, {one.name}", one.sentence) for one in assessment.not_used)
    said = (
        *input_remarks(assessment)[len(assessment.not_used) :],
        *comparison_sentences(assessment, with_differences=False),
    )
    yield from ((text.partition(":")[0], text) for text in said)  # what was assumed, of what in the route it may be


def flagged_words(assessment: Assessment, finding: Finding) -> str:
    """The words of the route text that a finding flags; "" where it belongs to the route as a whole."""
    text = assessment.route.route_input.route
    return short(_BETWEEN.join(text[span.start : span.end] for span in finding.spans), 40)


def _order(weight: Weight) -> int:
    return list(Weight).index(weight)


def _mark(key: _Key) -> str:
    return f"{WEIGHT_MARKS[key[0]]} {WEIGHT_NAMES[key[0]]}"
