"""For each reader: texts to begin with, what may be done to them, what it reads, and what makes no difference to it.

What is read of a mutated text must differ from what is read of the text before, in what it says or in what it names as
not used; else the mutation passed in silence. Whether it meant anything at all is judged without the reader. No tests
here.
"""

import datetime as dt
import re
import tomllib
from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from random import Random
from typing import Any

from full_input import FULL_INPUT
from mutators import CHARACTERS, Mutator, change_parts, mutate

from routecheck.model import Pasted, RouteInput, Use
from routecheck.reading.input_fields import INPUT_FIELDS, read_texts
from routecheck.reading.inputs import read_input
from routecheck.reading.off_block import to_utc
from routecheck.reading.route_file import write_route_file
from routecheck.reading.route_text import read_route
from routecheck.reading.tokens import find_invisible_marks


@dataclass(frozen=True)
class MutatedReader:
    name: str
    texts: tuple[str, ...]
    mutators: tuple[Mutator, ...]
    read: Callable[[str], Any]
    """All that the reader says of a text."""
    meaning: Callable[[str], Any]
    """Two texts of which this is the same may be read alike."""

    def mutate(self, seed: int) -> tuple[str, str]:
        """A text to begin with, and what became of it."""
        random = Random(seed)
        text = random.choice(self.texts)
        return text, mutate(random, text, self.mutators)

    def is_silent(self, text: str, changed: str) -> bool:
        """Whether the reader says the same of both though they do not mean the same."""
        read, meaning = self._before(text)
        return self.meaning(changed) != meaning and self.read(changed) == read

    def find_silent(self, seed: int) -> tuple[str, str] | None:
        """The text and what became of it, where that passes in silence."""
        text, changed = self.mutate(seed)
        return (text, changed) if self.is_silent(text, changed) else None

    def _before(self, text: str) -> tuple[Any, Any]:
        """What the reader says of a text to begin with, and what that means."""
        key = self.name, text
        if key not in _READ:
            _READ[key] = self.read(text), self.meaning(text)
        return _READ[key]


_READ: dict[tuple[str, str], Any] = {}


# ---- route text

_AROUND = r"[()\[\]{}<>\"'`´‘’‚“”„«»‹›]*"
_FALL_OFF = rf"{_AROUND}[,;:.]?{_AROUND}"


def read_words(text: str) -> Any:
    words = [(word.text, word.kind, word.attached) for word in read_route(RouteInput(text)).words]
    return words, [text[at] for at in find_invisible_marks(text)]


def mean_words(text: str) -> Any:
    """The words without the separators that may stand before and behind them, whatever blanks stand between."""
    words = re.split(r"[\s+]+", re.sub(r"/0(?=\d\b)", "/", text.upper()).replace("..", " .. "))
    words = [part for word in words for part in re.split(r"(?<=[A-Z])\.(?=[A-Z])", word)]
    return [bare for word in words if (bare := re.sub(rf"^{_FALL_OFF}|{_FALL_OFF}$", "", word))]


ROUTE_TEXT = MutatedReader(
    "route text",
    (
        "N0430F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO",
        "XVAL/09 LENDU1 LENDU UM12 TOVIK/N0450F370 DCT 3130S01215E DCT VAL090040 SARNO2 XVOR",
        "LENDU..PIKAR..TOVIK, SARNO (KEBUL) VFR 31S002E",
    ),
    (*CHARACTERS, *change_parts(" ")),
    read_words,
    mean_words,
)

# ---- rows

_HEADER = "name,departure,destination,route,speed,level,date,departure_runway,rules,kind"
ROWS_TEXT = "\n".join(
    (
        _HEADER,
        "one,XVAL,XVOR,LENDU DCT PIKAR,N0430,F350,2026-12-03,09,I,a",
        'two,XVOR,XVAL,"SARNO, DCT TOVIK",N0450,F330,03DEC26,27,I,b',
        "three,XVAL,XVMA,LENDU UM12 TOVIK,M078,F370,,,V,",
        'four,XVMA,XVQZ,"DCT\nPIKAR",,,,,,',
        "five,XVQZ,XVAL,KEBUL DCT RIPAS,K0830,S1130,2026-12-05,09,Y,c",
    )
)


def read_inputs(text: str, name: str) -> Any:
    """All that is said of each route, also what only its result passes through. A failure of ours is raised."""
    found = list(read_input(text.encode("utf-8", "replace"), name))
    assert not [one.unread for one in found if "our program failed" in one.unread]
    return [
        (replace(one, pasted=None), one.origin.columns, one.origin.line, name_unused_parts(one.pasted)) for one in found
    ]


def name_unused_parts(pasted: Pasted | None) -> list[tuple[str, str]]:
    """What of a pasted text is said to be not used, as it stands there."""
    parts = pasted.parts if pasted else ()
    return [(one.name, pasted.text[one.span.start : one.span.end]) for one in parts if one.use is not Use.USED]


def mean_rows(text: str) -> Any:
    """The cells line by line without quotation marks and the blanks around them, and without empty ones behind."""
    lines = [re.sub(r'["\ufeff]', "", line).upper() for line in text.splitlines()]
    rows = [re.sub(r"\s*,\s*", ",", line).strip().rstrip(",").replace("-0", "-") for line in lines]
    rows = [re.sub(r"(?<=[A-Z]{3})-(?=[0-9]{2}\b)", "", row) for row in rows]
    rows[:1] = [
        re.sub("[-_' ]+", " ", _ALIASES.sub(r"\1", row)).replace(", ", ",").replace(" ,", ",") for row in rows[:1]
    ]
    return [" ".join(_FORMS_IN_ROWS.sub("", row).split()) for row in rows if row]


_ALIASES = re.compile(r"\b(DEP|DEST)(?:ARTURE|INATION)\b")
_FORMS_IN_ROWS = re.compile(r"(?<=,)(?:FL?|N0?|K0?|0)(?=[0-9]{1,3}\b|[0-9][A-Z]{3}[0-9]{2}\b)|(?<=,M)0(?=[0-9]{2}\b)")
"""What may stand before the figures of a level, a speed or a runway, or be left out."""


ROWS = MutatedReader(
    "rows",
    (ROWS_TEXT,),
    (*CHARACTERS, *change_parts("\n"), *change_parts(",")),
    lambda text: read_inputs(text, "rows.csv"),
    mean_rows,
)

# ---- route file

ROUTE_FILE_TEXT = write_route_file(FULL_INPUT)
_FORMS = {field.file_key: field for field in INPUT_FIELDS if field.kind.has_line}


def mean_document(text: str) -> Any:
    """The document as TOML has it; None where it is none. Values in one form, days without the time of day."""
    try:
        document = tomllib.loads(text.strip().removeprefix("\ufeff"), parse_float=Decimal)
    except (tomllib.TOMLDecodeError, RecursionError, ValueError):
        return text
    document = {key: value for key, value in document.items() if (key, value) != ("schema", 1)}
    return {key: _mean_value(key, value) for key, value in document.items()}


def _mean_value(key: str, value: Any) -> Any:
    if isinstance(value, dt.datetime):
        return to_utc(value)
    if isinstance(value, list):
        return [_mean_value("", one) for one in value]
    if isinstance(value, dict):
        return {name: _mean_value(name, one) for name, one in value.items()}
    if isinstance(value, str):
        return _mean_text(key, value)
    return Decimal(value).normalize() if isinstance(value, int | Decimal) and not isinstance(value, bool) else value


def _mean_text(key: str, value: str) -> Any:
    field = _FORMS.get(key)
    read = read_texts([(field, value)]) if field else None
    if read and field and not read.faults:
        return read.values[field.name]
    return value.strip().upper() if key in ("to", "point", "level") else value.strip()


ROUTE_FILE = MutatedReader(
    "route file",
    (ROUTE_FILE_TEXT,),
    (*CHARACTERS, *change_parts("\n")),
    lambda text: read_inputs(text, "a.route.toml"),
    mean_document,
)

# ---- fields over the text, and options of the command line

_LINES = tuple(field for field in INPUT_FIELDS if field.kind.has_line)
FIELD_TEXTS = tuple(f"{field.name}={field.kind.write_text(getattr(FULL_INPUT, field.name))}" for field in _LINES)


def read_field(text: str) -> Any:
    name, _, typed = text.partition("=")
    field = next((one for one in _LINES if one.name == name), None)
    if field is None:
        return text
    read = read_texts([(field, typed)])
    return read.values, dict.fromkeys(read.faults, typed)


def mean_field(text: str) -> Any:
    """Letters in capitals and figures without the zeros that may stand before them; several codes part at blanks."""
    name, _, typed = text.partition("=")
    if name in ("title", "route", "aircraft_sheet", "role"):
        return name, typed.strip().lower() if name == "role" else typed.strip()
    if name == "load":
        return name, _mean_load(typed.upper())
    if name == "off_block":
        typed = re.sub(r"(?<=\b\d\d)H(?=\d\d\b)", ":", typed.upper())
        typed = re.sub(r"(?<=\d)\s*T(?=\d)|(\d{4}-\d\d-\d\d) (?=\1)", " ", typed.upper())
        typed = re.sub(r"(?<=\b\d\d):(?=\d\d\b)", "", typed.replace(" ", "  ")).replace("  ", " ")
    typed = re.sub(r"\b(?:FL?|N)(?=[0-9]{3})", "", typed.upper()) if name in ("speed", "level", "wind") else typed
    typed = re.sub(r"(?<=[0-9]{3})[/@]?0?(?=[0-9]{2}\b)", "", typed) if name == "wind" else typed
    return name, [part.lstrip("0") for part in re.findall(r"[A-Z]+|[0-9]+|[^A-Z0-9\s,;/.:'°()-]", typed.upper())]


def _mean_load(typed: str) -> Any:
    """The figures with their names in any order, one that stands twice with the same value once; what else there is."""
    text = re.sub(r"[=,;:]+|(?<!\d)\.|\.(?!\d)", " ", typed)
    named = re.compile(r"(V[12R]|[A-Z]+)(?:\s*(\d+(?:\.\d+)?)(?=\s|$))?")
    pairs = {(match[1], float(match[2] or 0)) for match in named.finditer(text)}
    return sorted(pairs), named.sub("", text).split()


FIELDS = MutatedReader("fields", FIELD_TEXTS, CHARACTERS, read_field, mean_field)

# ---- messages

MESSAGE_TEXT = (
    "(FPL-ABC123-IS\n-B738/M-SDFGIRWY/S\n-XVAL1430\n-N0430F350 LENDU DCT PIKAR UM12 TOVIK DCT SARNO\n"
    "-XVOR0145 XVMA\n-PBN/A1B1 DOF/261203 EET/XVFR0020)"
)


def mean_message(text: str) -> Any:
    """Without brackets, hyphens and the signs that part the message from other text of its line."""
    text = re.sub(r"^[\s,;:.|/+=_*-]+\(|\)[\s,;:.|/+=_*-]+$", "", text.upper().removeprefix("\ufeff"))
    return " ".join(re.sub(r"[\s()-]+", " ", text).split())


MESSAGES = MutatedReader(
    "message",
    (MESSAGE_TEXT,),
    (*CHARACTERS, *change_parts("\n"), *change_parts("-")),
    lambda text: read_inputs(text, "message.txt"),
    mean_message,
)

READERS = (ROUTE_TEXT, ROWS, ROUTE_FILE, FIELDS, MESSAGES)
