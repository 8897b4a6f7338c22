"""How a kind of value is read and written: in a route file, in one line of text, in a saved session.

Which values there are, each of which kind, stands in input_fields. Kinds with tables of their own live in modules of
their own (wind, altitude_windows, claims, accepted, changed).
"""

from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.formatting import quote
from routecheck.frozen_dataclass import dataclass
from routecheck.model import Role, complete_off_block
from routecheck.reading import value_forms
from routecheck.reading.nav_logs.column_kinds import read_choices, write_choices
from routecheck.reading.off_block import read_off_block, to_utc, write_off_block
from routecheck.reading.toml_values import name_type, read_number, read_tables, simplify_number

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from routecheck.model import OffBlock
    from routecheck.reading.reading_notes import ReadingNotes
    from routecheck.reading.toml_merge import TableIdentity

    ValueReader = Callable[[object, str, ReadingNotes], Any]
    TextReader = Callable[[str], tuple[Any, str]]

_DEVIATIONS_C = (-60, 60)


def _refuse_line(_text: str) -> tuple[Any, str]:
    raise TypeError("values of this kind have no form in one line")


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldKind:
    """How the values of one kind are read and written."""

    read_value: ValueReader
    """Reads the value of a key of a route file: (value, key, notes). What is not used is noted."""
    write_value: Callable[[Any], object]
    """Gives the value as its key in a route file holds it; None where there is nothing to write."""
    restore: Callable[[Any], Any]
    """Makes the value again from the plain JSON of a saved session."""
    read_text: TextReader = _refuse_line
    """Reads one line, as typed in a field, a CSV cell or an option: the value, and "" or the reason
    why it is none, without a full stop."""
    write_text: Callable[[Any], str] = str
    """Writes the value as one line that `read_text` reads."""
    complete: Callable[[Any, Any], Any] = lambda own, _other: own
    """Takes from another value what one that is given does not say."""
    is_chosen: bool = False
    """Whether the window offers a list to choose from in place of a line to type in."""
    choices: tuple[str, ...] = ()
    """The only texts there are; the first says that nothing was said. () = any."""
    characters: str = ""
    """A regular expression of what can be typed; "" = anything."""
    capitals: bool = False
    """Whether small letters that are typed in the window become capitals."""
    tables: TableIdentity | None = None
    """Set where the route file holds tables of this kind."""

    @property
    def is_typed(self) -> bool:
        """Whether it is typed as one line, which may be none that can be read."""
        return self.has_line and not self.is_chosen

    @property
    def has_line(self) -> bool:
        """Whether it has a form in one line."""
        return self.read_text is not _refuse_line


def make_table_kind(
    make_value: Callable[..., Any],
    plural: str,
    read_table: Callable[[Mapping[str, object], str, ReadingNotes], Any],
    write_table: Callable[[Any], dict[str, object]],
    tables: TableIdentity,
) -> FieldKind:
    """Make a kind of which a route file holds any number of tables, each of them one value."""

    def read_value(value: object, key: str, notes: ReadingNotes) -> tuple[Any, ...]:
        return read_tables(value, key, plural, read_table, notes)

    def write_value(values: Sequence[Any]) -> list[dict[str, object]] | None:
        return [write_table(value) for value in values] or None

    def restore(values: list[dict[str, Any]]) -> tuple[Any, ...]:
        return tuple(make_value(**value) for value in values)

    return FieldKind(read_value=read_value, write_value=write_value, restore=restore, tables=tables)


# ---- texts


def _read_string(value: object, key: str, notes: ReadingNotes) -> str:
    if isinstance(value, str):
        return value
    notes.refuse(key, f"it is {name_type(value)}, but must be text in quotation marks")
    return ""


def _read_stripped(value: object, key: str, notes: ReadingNotes) -> str:
    return _read_string(value, key, notes).strip()


def _strip_line(text: str) -> tuple[str, str]:
    return text.strip(), ""


def _omit_empty(value: str) -> str | None:
    return value or None


TEXT = FieldKind(read_value=_read_stripped, write_value=_omit_empty, restore=str, read_text=_strip_line)


def _read_columns(value: object, key: str, notes: ReadingNotes) -> str:
    text = _read_stripped(value, key, notes)
    choices, fault = read_choices(text)
    if fault:
        notes.refuse(key, fault)
    return write_choices(choices)


COLUMN_CHOICES = FieldKind(read_value=_read_columns, write_value=_omit_empty, restore=str)
"""What the columns of a nav log are: fix=1,distance=4."""
CHOSEN_NAME = FieldKind(
    read_value=_read_stripped, write_value=_omit_empty, restore=str, read_text=_strip_line, is_chosen=True
)
"""A name that the window offers in a list."""
ROUTE_TEXT = FieldKind(read_value=_read_string, write_value=_omit_empty, restore=str, read_text=_strip_line)
"""The route as it was typed, blanks and all."""
CODE = FieldKind(
    read_value=_read_stripped,
    write_value=_omit_empty,
    restore=str,
    read_text=_strip_line,
    characters="[A-Za-z0-9/, -]*",
    capitals=True,
)
"""A short code such as XVAL."""


def _make_form_kind(read_text: TextReader) -> FieldKind:
    """Make a kind of short text that is typed in several forms and kept in one."""

    def read_value(value: object, key: str, notes: ReadingNotes) -> str:
        read: str = read_text(_read_string(value, key, notes))[0]
        return read

    return replace(CODE, read_value=read_value, read_text=read_text, write_text=str, characters="[A-Za-z0-9/,.'() -]*")


SPEED = _make_form_kind(value_forms.read_speed)
LEVEL = _make_form_kind(value_forms.read_level)
RUNWAY = _make_form_kind(value_forms.read_runway)
APPROACH = _make_form_kind(value_forms.read_approach)
RULES = _make_form_kind(value_forms.read_rules)
FORM_KINDS = (SPEED, LEVEL, RUNWAY, APPROACH, RULES)


# ---- lists of texts

_BETWEEN_CODES = re.compile(r"[\s,;/]+(?:(?:OR|AND)[\s,;/]+)?", re.IGNORECASE)
_CODE = re.compile(r"\w{2,7}")


def _read_list(value: object, key: str, notes: ReadingNotes) -> tuple[str, ...] | None:
    items = [value] if isinstance(value, str) else value
    if isinstance(items, list) and all(isinstance(item, str) for item in items):
        return tuple(items)
    notes.refuse(key, f"it is {name_type(value)}, but must be a list of texts")
    return None


def _read_codes(value: object, key: str, notes: ReadingNotes) -> tuple[str, ...]:
    return _split_codes(value)[0] if isinstance(value, str) else _read_list(value, key, notes) or ()


def _split_codes(text: str) -> tuple[tuple[str, ...], str]:
    codes = [code for code in _BETWEEN_CODES.split(text) if code]
    bad = next((code for code in codes if not _CODE.fullmatch(code)), None)
    if bad is not None:
        return (), f"{quote(text.strip(), 40)} is no list of aerodromes: write it as XVMA XVOR"
    return tuple(codes), ""


def _write_list(texts: tuple[str, ...] | None) -> list[str] | None:
    return None if texts is None else list(texts)


def _restore_texts(values: list[Any]) -> tuple[str, ...]:
    return tuple(str(value) for value in values)


CODES = FieldKind(
    read_value=_read_codes,
    write_value=lambda codes: list(codes) or None,
    restore=_restore_texts,
    read_text=_split_codes,
    write_text=" ".join,
    characters=CODE.characters,
    capitals=True,
)
"""Several codes with a blank, a comma, a slash or a word between."""
EXPECTATIONS = FieldKind(read_value=_read_list, write_value=_write_list, restore=_restore_texts)
"""A list of texts of which an empty one says something else than none at all."""


# ---- day and time


def _read_moment(value: object, key: str, notes: ReadingNotes) -> OffBlock | None:
    if isinstance(value, dt.datetime):
        if value.tzinfo is None:
            notes.remarks.append(f"{key} has no time zone: taken as UTC.")
        return to_utc(value)
    if isinstance(value, dt.date):
        return value
    if isinstance(value, dt.time):
        return value.replace(microsecond=0)
    if isinstance(value, str):
        return read_off_block(value)[0]
    notes.refuse(key, f"it is {name_type(value)}, but must be a time such as 2026-12-03T14:30:00Z")
    return None


def _restore_moment(text: str) -> OffBlock | None:
    value, why = read_off_block(text)
    if why:
        raise ValueError(why)
    return value


OFF_BLOCK = FieldKind(
    read_value=_read_moment,
    write_value=lambda off_block: off_block,
    restore=_restore_moment,
    read_text=read_off_block,
    write_text=write_off_block,
    complete=complete_off_block,
    characters="[0-9A-Za-z/:.+ -]*",
    capitals=True,
)
"""Day and time off-block, or one of them."""


# ---- one of few


_ROLES = {role.value: role for role in Role if role is not Role.NOT_SAID}
_ROLE_NAMES = "“filed”, “cleared” and “entered”"


def _read_role(value: object, key: str, notes: ReadingNotes) -> Role:
    role, why = _parse_role(value if isinstance(value, str) else "")
    if why or role is Role.NOT_SAID:
        notes.refuse(key, f"it is one of {_ROLE_NAMES}")
    return role


def _parse_role(text: str) -> tuple[Role, str]:
    if not text:
        return Role.NOT_SAID, ""
    role = _ROLES.get(text.strip().casefold().removeprefix("as "))
    return (role, "") if role else (Role.NOT_SAID, f"{quote(text, 40)} is none of {_ROLE_NAMES}")


ROLE = FieldKind(
    read_value=_read_role,
    write_value=lambda role: None if role is Role.NOT_SAID else role.value,
    restore=Role,
    read_text=_parse_role,
    is_chosen=True,
    choices=(Role.NOT_SAID.value, *_ROLES),
)


# ---- numbers


def _read_deviation(value: object, key: str, notes: ReadingNotes) -> float | None:
    return read_number({key: value}, key, "the route file", _DEVIATIONS_C, notes)


TEMPERATURE_DEVIATION = FieldKind(
    read_value=_read_deviation,
    write_value=lambda degrees: None if degrees is None else simplify_number(degrees),
    restore=float,
)
"""How much warmer the air is than the standard atmosphere, °C."""
