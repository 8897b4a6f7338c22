"""One collection of known routes: compiled into one SQLite image with its counts, and asked for them. No file here.

The rows are what was read; the counts of pairs and triples of words are made of them once, when it is compiled.
"""

from __future__ import annotations

import json
import sqlite3
from contextlib import closing
from dataclasses import asdict
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from routecheck.formatting import listing
from routecheck.frozen_dataclass import dataclass
from routecheck.known.word_sequence import UNCOUNTED

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from routecheck.arrays import Integers

SCHEMA = 2
"""Count this up when the tables change or come to mean something else: a collection of another schema is not read."""
_APPLICATION = 0x52434B52
_WORD_BITS = 21
MOST_WORDS = 1 << _WORD_BITS
"""So many different words at most: three of them fit into one number of 63 bits (no list of routes comes near it)."""
_TABLES = """
    CREATE TABLE about (json);
    CREATE TABLE route (
        departure, destination, words, text, name, line, times,
        PRIMARY KEY (departure, destination, words)
    ) WITHOUT ROWID;
    CREATE TABLE word (number INTEGER PRIMARY KEY, text UNIQUE, times, begins, ends);
    CREATE TABLE pair (words INTEGER PRIMARY KEY, times);
    CREATE TABLE triple (words INTEGER PRIMARY KEY, times);
"""
"""A pair is the numbers of its words in one number, a triple those of its first, last and middle word: a million routes
take less than half of what they would take with words as texts."""
_MOST_CACHED = 100_000
_INSERT_ROUTE = """
    INSERT INTO route VALUES (?, ?, ?, ?, ?, ?, ?)
    ON CONFLICT DO UPDATE SET times = times + ?
"""
MOST_BETWEEN = 200
"""So many known routes between two aerodromes are compared with a route (our choice)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownRow:
    """One row of a collection. `words` are those between the aerodromes as they are counted, with blanks between.

    `times` is how often it says it was flown; None = it does not say. Rows that say the same are one known route.
    """

    departure: str
    destination: str
    words: str
    text: str
    name: str = ""
    line: int | None = None
    times: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownRoute:
    """A known route as it was read, with the words by which it is compared."""

    departure: str
    destination: str
    words: tuple[str, ...]
    text: str
    name: str
    line: int | None
    times: int


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What is to be said of a collection: its name, its known routes, and the rows that are not among them."""

    name: str
    routes: int = 0
    rows: int = 0
    unread: int = 0
    """Rows that could not be read; `unresolved` those of which the navigation data knows nothing."""
    unresolved: int = 0
    outdated: int = 0
    """Rows that are valid on other days only."""
    left_out: int = 0
    """Rows that were left out because something of them is Wrong."""
    columns: tuple[str, ...] = ()
    """The columns that nothing reads."""
    added: str = ""
    """The day on which it was added, ISO; "" = for one run only."""

    def describe_lost(self) -> str:
        """How many rows are not among the known routes, and why; "" where all are."""
        parts = (
            (self.unread, "could not be read"),
            (self.unresolved, "with nothing that the navigation data knows"),
            (self.outdated, "valid on other days only"),
            (self.left_out, "left out with something Wrong"),
        )
        return listing([f"{number:,} {why}" for number, why in parts if number])


class UnusableError(Exception):
    """An image is no collection, one of another schema, or damaged."""


class TooManyWordsError(Exception):
    """More different words than routes can have."""


# ---- compiling


def compile_collection(
    rows: Iterable[KnownRow], describe: Callable[[int], About], progress: Callable[[float], None]
) -> Collection:
    """Compile rows into a collection in memory. `describe` is asked when all are read, with how many routes there are.

    `progress` gets the share done of the counting, and may raise to stop. Raises TooManyWordsError.
    """
    database = sqlite3.connect(":memory:", isolation_level=None, check_same_thread=False)
    database.execute("BEGIN")
    for statement in filter(str.strip, _TABLES.split(";")):
        database.execute(statement)
    database.executemany(_INSERT_ROUTE, map(_row_values, rows))
    progress(0.2)
    _insert_counts(database, progress)
    routes = database.execute("SELECT count(*) FROM route").fetchone()[0]
    about = describe(routes)
    database.execute("INSERT INTO about VALUES (?)", [json.dumps(asdict(about))])
    database.execute("COMMIT")
    database.execute(f"PRAGMA application_id = {_APPLICATION}")
    database.execute(f"PRAGMA user_version = {SCHEMA}")
    progress(1.0)
    return Collection(database)


def _row_values(row: KnownRow) -> tuple[object, ...]:
    text = "" if row.text == row.words else row.text
    first, more = (1, 0) if row.times is None else (row.times, row.times)
    return (row.departure, row.destination, row.words, text, row.name, row.line, first, more)


def _insert_counts(database: sqlite3.Connection, progress: Callable[[float], None]) -> None:
    """Count words, pairs and triples of all routes, each as often as its route was flown."""
    words, sequences, times = _number_words(database)
    progress(0.4)
    counts = _count_words(sequences, times, len(words))
    database.executemany("INSERT INTO word VALUES (?, ?, ?, ?, ?)", zip(range(len(words)), words, *counts, strict=True))
    database.executemany("INSERT INTO pair VALUES (?, ?)", _count_keys(*_pair_keys(sequences, times)))
    progress(0.6)
    database.executemany("INSERT INTO triple VALUES (?, ?)", _count_keys(*_triple_keys(sequences, times)))
    progress(0.9)


def _count_words(column: Integers, times: Integers, words: int) -> Iterator[list[int]]:
    """How often each word stands in the routes, begins one, and ends one."""
    breaks = column < 0
    begins, ends = np.roll(breaks, 1), np.roll(breaks, -1)
    for chosen in (~breaks, begins & ~breaks, ends & ~breaks):
        yield np.bincount(column[chosen], times[chosen], words).astype(np.int64).tolist()


def _number_words(database: sqlite3.Connection) -> tuple[list[str], Integers, Integers]:
    """The different words; all routes as one column of their numbers, -1 for what breaks a sequence; and how often
    the route of each was flown."""
    numbers: dict[str, int] = {}
    column: list[int] = []
    weights: list[int] = []
    for departure, destination, words, times in database.execute(
        "SELECT departure, destination, words, times FROM route"
    ):
        before = len(column)
        sequence = (departure, *words.split(), destination)
        column += [_number(word, numbers) for word in sequence]
        column.append(-1)
        weights += [times] * (len(column) - before)
        if len(numbers) >= MOST_WORDS:
            raise TooManyWordsError
    return list(numbers), np.array(column, np.int64), np.array(weights, np.int64)


def _number(word: str, numbers: dict[str, int]) -> int:
    return -1 if not word or word.startswith(UNCOUNTED) else numbers.setdefault(word, len(numbers))


def _pair_keys(column: Integers, times: Integers) -> tuple[Integers, Integers]:
    counted = (column[:-1] >= 0) & (column[1:] >= 0)
    return ((column[:-1] << _WORD_BITS) | column[1:])[counted], times[:-1][counted]


def _triple_keys(column: Integers, times: Integers) -> tuple[Integers, Integers]:
    first, middle, last = column[:-2], column[1:-1], column[2:]
    counted = (first >= 0) & (middle >= 0) & (last >= 0)
    return ((first << 2 * _WORD_BITS) | (last << _WORD_BITS) | middle)[counted], times[:-2][counted]


def _count_keys(keys: Integers, times: Integers) -> Iterator[tuple[int, int]]:
    """The different keys in order, and how often each is there."""
    distinct, place = np.unique(keys, return_inverse=True)
    counted = np.bincount(place, times, len(distinct)).astype(np.int64)
    return zip(distinct.tolist(), counted.tolist(), strict=True)


# ---- asking


class Collection:
    """A compiled collection. Every question is one look into the image; nothing is loaded beforehand."""

    def __init__(self, database: sqlite3.Connection) -> None:
        """Raises UnusableError where the database is none, or of another schema."""
        self._database = database
        self._number = lru_cache(_MOST_CACHED)(self._find_number)
        self._text = lru_cache(_MOST_CACHED)(self._find_text)
        self.about = _read_about(database)

    def serialize(self) -> bytes:
        """The image as bytes, to be kept in a file."""
        return self._database.serialize()

    def close(self) -> None:
        """Let go of the image."""
        self._database.close()

    def count_pair(self, first: str, second: str) -> int:
        """In how many known routes the second word stands behind the first."""
        words = self._number(first) << _WORD_BITS | self._number(second)
        return self._count("SELECT times FROM pair WHERE words = ?", words)

    def count_word(self, text: str) -> int:
        """How often a word stands in all known routes together."""
        return self._count("SELECT times FROM word WHERE text = ?", text)

    def words_between(self, first: str, last: str) -> dict[str, int]:
        """The words that stand between two words, and in how many known routes each does."""
        lowest = self._number(first) << 2 * _WORD_BITS | self._number(last) << _WORD_BITS
        asked = f"SELECT words & {MOST_WORDS - 1}, times FROM triple WHERE words BETWEEN ? AND ?"
        found = self._database.execute(asked, (lowest, lowest | (MOST_WORDS - 1)))
        return {self._text(middle): times for middle, times in found}

    def routes_between(self, departure: str, destination: str) -> list[KnownRoute]:
        """The known routes between two aerodromes in the order of their lines; of very many those flown most."""
        asked = (
            "SELECT words, text, name, line, times FROM route WHERE departure = ? AND destination = ? "
            f"ORDER BY times DESC LIMIT {MOST_BETWEEN}"
        )
        rows = self._database.execute(asked, (departure, destination)).fetchall()
        return [
            KnownRoute(
                departure=departure,
                destination=destination,
                words=tuple(words.split()),
                text=text or words,
                name=name,
                line=line,
                times=times,
            )
            for words, text, name, line, times in sorted(rows, key=lambda row: (row[3] or 0, row[0]))
        ]

    def knows_ends(self, departure: str, destination: str) -> bool:
        """Whether any known route begins at the one aerodrome, and any ends at the other."""
        asked = (
            "SELECT EXISTS (SELECT 1 FROM word WHERE text = ? AND begins) "
            "AND EXISTS (SELECT 1 FROM word WHERE text = ? AND ends)"
        )
        return bool(self._count(asked, departure, destination))

    def _find_number(self, text: str) -> int:
        """The number of a word; -1, which makes no pair and no triple, where no known route has the word."""
        found = self._database.execute("SELECT number FROM word WHERE text = ?", (text,)).fetchone()
        return found[0] if found else -1

    def _find_text(self, number: int) -> str:
        return str(self._database.execute("SELECT text FROM word WHERE number = ?", (number,)).fetchone()[0])

    def _count(self, statement: str, *values: str | int) -> int:
        found = self._database.execute(statement, values).fetchone()
        return int(found[0]) if found else 0


def open_collection(path_uri: str) -> Collection:
    """Open the image in a file, read where it is asked. Raises UnusableError."""
    try:
        database = sqlite3.connect(f"{path_uri}?mode=ro&immutable=1", uri=True, check_same_thread=False)
    except sqlite3.Error as error:
        raise UnusableError(str(error)) from None
    return Collection(database)


def open_image(image: bytes) -> Collection:
    """Open an image in memory. Raises UnusableError."""
    database = sqlite3.connect(":memory:", check_same_thread=False)
    try:
        database.deserialize(image)
    except sqlite3.Error as error:
        raise UnusableError(str(error)) from None
    return Collection(database)


def _read_about(database: sqlite3.Connection) -> About:
    try:
        with closing(database.cursor()) as cursor:
            kind = [cursor.execute(f"PRAGMA {name}").fetchone()[0] for name in ("application_id", "user_version")]
            if kind != [_APPLICATION, SCHEMA]:
                raise UnusableError("it is of another version, or no collection")
            values = json.loads(cursor.execute("SELECT json FROM about").fetchone()[0])
            return About(**{**values, "columns": tuple(values["columns"])})
    except (sqlite3.Error, ValueError, TypeError, KeyError) as error:
        raise UnusableError(f"it is damaged ({error})") from None
