"""Columns that blanks part: words of lines of one kind to cells, by where they stand or by how many there are."""

from __future__ import annotations

import re
from collections import Counter
from itertools import pairwise
from typing import TYPE_CHECKING

from routecheck.model import Span
from routecheck.reading.nav_logs.columns import kind_of_head
from routecheck.reading.nav_logs.lines import Cell
from routecheck.reading.nav_logs.values import read_coordinate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from routecheck.reading.nav_logs.lines import Line

_Extent = tuple[int, int]
"""From where to where in its line, from 0."""
_GAP = re.compile(r"\s{2,}")
_LETTER = re.compile(r"[NSEW]")
_CLEARLY = 0.7


class ColumnCutter:
    """Cuts lines of one kind, of the same place in their rows, into cells: learnt from some, used for all."""

    def __init__(self, text: str, lines: Sequence[Line]) -> None:
        self._text = text
        extents = _find_extents(text, lines)
        count, alike = Counter(len(line.cells) for line in lines).most_common(1)[0] if lines else (0, 0)
        is_counted = alike >= _CLEARLY * len(lines) and not _hold_one_each(text, lines, extents, count)
        self.extents = [] if is_counted else _join_coordinates(text, lines, extents)
        """Empty where words are simply counted: most lines have as many, and they do not line up."""
        self._full = [line for line in lines if len(line.cells) == count] if is_counted else []
        self._joins = _find_halves(self._full, count) if is_counted else ()
        """Numbers of the words that make one cell with the next, in lines that are counted."""
        self._by_count = count - len(self._joins)
        self._shapes = [
            {_shape(cell.text) for cell in column} for column in zip(*map(self._join_halves, self._full), strict=True)
        ]

    @property
    def width(self) -> int:
        """How many columns there are."""
        return len(self.extents) or self._by_count

    def cut(self, line: Line) -> tuple[Cell, ...]:
        """The cells of a line, as many as there are columns."""
        if self.extents:
            return self._cut_at_extents(line)
        cells = self._join_halves(line)
        empty = Cell("", Span(line.span.start, line.span.start))
        if len(cells) < self._by_count and (places := _find_places([_shape(one.text) for one in cells], self._shapes)):
            return tuple(cells[places.index(at)] if at in places else empty for at in range(self._by_count))
        return (*cells, *[empty] * (self._by_count - len(cells)))

    def _join_halves(self, line: Line) -> tuple[Cell, ...]:
        cells = list(line.cells)
        is_full = len(cells) == self._by_count + len(self._joins)
        joins = self._joins if is_full or not self._joins else _find_halves([line], len(cells))
        for at in reversed(joins):
            cells[at : at + 2] = [self._join(cells[at : at + 2])]
        return tuple(cells)

    def cut_head(self, line: Line) -> tuple[Cell, ...]:
        """The cells of a line of heads: as wide gaps part it, where they give as many as there are columns.

        Else as the words stand over the columns; where words are counted, those that make one head are joined first.
        """
        phrases = _phrases(self._text, line)
        if len(phrases) == self.width:
            return tuple(self._join([word for word, _ in phrase]) for phrase in phrases)
        if self.extents:
            return self._cut_at_extents(line)
        cells = list(line.cells)
        at = 0
        while len(cells) > self._by_count and at < len(cells) - 1:
            both = self._join(cells[at : at + 2])
            if kind_of_head(both.text):
                cells[at : at + 2] = [both]
            else:
                at += 1
        return tuple(cells)

    def holds(self, line: Line) -> int:
        """How many words of a line stand in one of the columns."""
        return sum(
            any(first < stop and last > begin for begin, stop in self.extents)
            for first, last in _places(self._text, line)
        )

    def _cut_at_extents(self, line: Line) -> tuple[Cell, ...]:
        found: list[list[Cell]] = [[] for _ in self.extents]
        for phrase in _phrases(self._text, line):
            places = [place for _, place in phrase]
            for (word, _), column in zip(phrase, _place_words(places, self.extents), strict=True):
                found[column].append(word)
        empty = Cell("", Span(line.span.start, line.span.start))
        return tuple(self._join(words) if words else empty for words in found)

    def _join(self, words: Sequence[Cell]) -> Cell:
        span = Span(words[0].span.start, words[-1].span.end)
        return Cell(self._text[span.start : span.end], span)


def _places(text: str, line: Line) -> list[_Extent]:
    """Where the words of a line stand in it, tabs filled up."""
    begin = line.span.start
    if "\t" not in text[begin : line.span.end]:
        return [(word.span.start - begin, word.span.end - begin) for word in line.cells]
    starts = [len(text[begin : word.span.start].expandtabs(8)) for word in line.cells]
    return [(start, start + len(word.text)) for start, word in zip(starts, line.cells, strict=True)]


def _phrases(text: str, line: Line) -> list[list[tuple[Cell, _Extent]]]:
    """The words of a line with their places, in groups that one blank parts."""
    groups: list[list[tuple[Cell, _Extent]]] = []
    for word, place in zip(line.cells, _places(text, line), strict=True):
        if groups and place[0] - groups[-1][-1][1][1] <= 1:
            groups[-1].append((word, place))
        else:
            groups.append([(word, place)])
    return groups


def _find_extents(text: str, lines: Sequence[Line]) -> list[_Extent]:
    """From where to where each column reaches: between places that are blank in all of the lines."""
    extents: list[list[int]] = []
    for first, last in sorted(place for line in lines for place in _places(text, line)):
        if extents and first < extents[-1][1] + 1:
            extents[-1][1] = max(extents[-1][1], last)
        else:
            extents.append([first, last])
    return [(first, last) for first, last in extents]


def _hold_one_each(text: str, lines: Sequence[Line], extents: Sequence[_Extent], count: int) -> bool:
    """Whether the columns take the words of lines apart: no two of a line in one, wherever a line has the usual number.

    Columns that do not line up overlap from line to line, and then hold several words of one line.
    """
    if len(extents) < count:
        return False
    for line in lines:
        held = [_place_words([place], extents)[0] for place in _places(text, line)]
        if len(line.cells) == count and len(set(held)) < count:
            return False
    return True


def _join_coordinates(text: str, lines: Sequence[Line], extents: list[_Extent]) -> list[_Extent]:
    """The columns with the two of “N51 30.5” joined to one: one blank between them, and one letter."""
    joined = extents[:1]
    for before, after in pairwise(extents):
        pairs = [(_word_in(text, line, before), _word_in(text, line, after)) for line in lines]
        if after[0] - before[1] == 1 and _are_coordinates(pairs):
            joined[-1] = joined[-1][0], after[1]
        else:
            joined.append(after)
    return joined


def _shape(text: str) -> str:
    """A word with all letters, and all digits in a row, as one: “UM12” and “L9” are alike."""
    return re.sub(r"\d+", "0", re.sub(r"[A-Za-z]+", "A", text))


def _find_places(shapes: Sequence[str], columns: Sequence[set[str]]) -> list[int]:
    """The columns, from left to right, in which words of such shapes stand elsewhere; none where one fits nowhere."""
    places: list[int] = []
    for shape in shapes:
        first = places[-1] + 1 if places else 0
        at = next((i for i in range(first, len(columns)) if shape in columns[i]), None)
        if at is None:
            return []
        places.append(at)
    return places


def _find_halves(lines: Sequence[Line], count: int) -> tuple[int, ...]:
    """The numbers of words that are the degrees of a coordinate, of which the next word is the minutes."""
    texts = [[word.text for word in line.cells] for line in lines]
    return tuple(at for at in range(count - 1) if _are_coordinates([(row[at], row[at + 1]) for row in texts]))


def _are_coordinates(pairs: Sequence[tuple[str, str]]) -> bool:
    """Whether most pairs of words are one coordinate: one letter in the two, and readable only together."""
    filled = [pair for pair in pairs if any(pair)]
    fitting = [
        pair
        for pair in filled
        if all(pair) and len(_LETTER.findall("".join(pair))) == 1 and _is_coordinate(" ".join(pair))
    ]
    return bool(filled) and len(fitting) >= _CLEARLY * len(filled)


def _is_coordinate(text: str) -> bool:
    return bool(read_coordinate(text, "NS") or read_coordinate(text, "EW"))


def _word_in(text: str, line: Line, extent: _Extent) -> str:
    words = zip(line.cells, _places(text, line), strict=True)
    return next((word.text for word, place in words if place[0] >= extent[0] and place[1] <= extent[1]), "")


def _place_words(words: Sequence[_Extent], extents: Sequence[_Extent]) -> list[int]:
    """The column of each word of a phrase. One over no column goes with the next, or the one before, or the nearest."""
    over = [
        next((i for i, (begin, stop) in enumerate(extents) if first < stop and last > begin), None)
        for first, last in words
    ]
    known = [column for column in over if column is not None]
    if not known:
        nearest = [min(range(len(extents)), key=lambda i: abs(sum(extents[i]) - sum(word))) for word in words]
        return nearest[:1] * len(words)
    placed: list[int] = []
    following = known[-1]
    for column in reversed(over):
        following = following if column is None else column
        placed.append(following)
    return placed[::-1]
