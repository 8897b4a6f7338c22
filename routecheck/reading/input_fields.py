"""The table of all values that can be given with a route: one row each, used wherever such a value goes in or out.

The route file, CSV rows, the options of the command line, the fields of the window and the saved session are made from
these rows, in this order. A new value needs its row here, with an example, and its attribute in `model.RouteInput`.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING, Any

from routecheck.frozen_dataclass import dataclass
from routecheck.reading import field_kinds as kinds
from routecheck.reading.accepted import ACCEPTED
from routecheck.reading.altitude_windows import WINDOWS
from routecheck.reading.changed import CHANGES
from routecheck.reading.claims import CLAIMS
from routecheck.reading.field_tables import make_version_kind
from routecheck.reading.load import LOAD
from routecheck.reading.plan_figures import DELAYS, ELAPSED_TIMES, TOTALS
from routecheck.reading.read_across import READ_ACROSS
from routecheck.reading.wind import WIND, WIND_FORMS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from routecheck.model import RouteInput
    from routecheck.reading.field_kinds import FieldKind


@dataclass(frozen=True, slots=True, kw_only=True)
class InputField:
    """One value that can be given with a route."""

    name: str
    """Its attribute in RouteInput."""
    kind: FieldKind
    """How it is read and written."""
    noun: str = ""
    """What a sentence calls it, where that is not its name."""
    key: str = ""
    """Its key in a route file, where that is not its name."""
    example: str = ""
    column: bool = False
    """Whether CSV rows have a column of its name."""
    part: str = ""
    """Another column and option, which gives a part of it: the date of a moment; "" = there is none."""
    option: str = ""
    """What the option of its name says in the help of the command line; "" = there is no option."""
    label: str = ""
    """What stands over its field in the window; "" = there is no field."""
    hint: str = ""
    """What is shown when the mouse rests on the field, in place of the example."""
    width: int = 5
    """Characters that its field is wide."""
    most_width: int = 0
    """Characters that its field may grow to."""
    group: str = ""
    """Fields of one group stand together in the window."""
    fallback: str = ""
    """What is done where its text cannot be read, as a sentence."""

    @property
    def file_key(self) -> str:
        """Its key in a route file."""
        return self.key or self.name

    @property
    def option_name(self) -> str:
        """Its option on the command line."""
        return f"--{self.name.replace('_', '-')}"


_OF_A_VERSION = (
    InputField(name="title", kind=kinds.TEXT, column=True),
    InputField(name="role", kind=kinds.ROLE, column=True, option="what the text is", label="the text is"),
    InputField(
        name="departure", kind=kinds.CODE, example="XVAL", column=True, option="departure aerodrome",
        label="departure", group="departure",
    ),
    InputField(
        name="departure_runway", kind=kinds.RUNWAY, example="09", column=True, option="runway of the departure",
        label="runway", width=3, group="departure",
    ),
    InputField(
        name="destination", kind=kinds.CODE, example="XVOR", column=True, option="destination aerodrome",
        label="destination", group="destination",
    ),
    InputField(
        name="destination_runway", kind=kinds.RUNWAY, example="27", column=True, option="runway at the destination",
        label="runway", width=3, group="destination",
    ),
    InputField(
        name="approach", kind=kinds.APPROACH, example="I27", column=True,
        option="approach at the destination, such as I27 or ILS 27", label="approach", group="destination",
    ),
    InputField(
        name="alternate", kind=kinds.CODES, example="XVMA", column=True, option="alternate aerodromes",
        label="alternate", hint="for example XVMA, several with a blank between",
    ),
    InputField(
        name="alternate_route", kind=kinds.ROUTE_TEXT, example="SARNO DCT KEBUL", column=True,
        option="route from the destination to the first alternate; without it direct",
    ),
    InputField(
        name="off_block", noun="time off-block", kind=kinds.OFF_BLOCK, example="2026-12-03 1430",
        column=True, part="date",
        option="date and time off-block, UTC, or one of them", label="off-block, UTC",
        hint="for example 2026-12-03 1430, or one of them; without a date: today", width=16,
        fallback="Today's date and no time are used.",
    ),
    InputField(
        name="speed", kind=kinds.SPEED, example="N0430", column=True, option="cruising speed", label="speed", width=6
    ),
    InputField(name="level", kind=kinds.LEVEL, example="F350", column=True, option="cruising level", label="level"),
    InputField(
        name="first_altitude", kind=kinds.LEVEL, example="A050", column=True,
        option="altitude or level cleared first", label="cleared first", hint="for example 5000, A050 or FL90",
    ),
    InputField(
        name="rules", kind=kinds.RULES, example="I", column=True, option="flight rules of Item 8: I, V, Y or Z"
    ),
    InputField(name="route", kind=kinds.ROUTE_TEXT, example="LENDU DCT PIKAR UM12 TOVIK", column=True),
    InputField(
        name="wind", kind=WIND, example="280/45", column=True, option=f"wind, {WIND_FORMS}", label="wind, true",
        hint=f"{WIND_FORMS}; empty = none", width=10, most_width=25, fallback="No wind is used.",
    ),
    InputField(
        name="aircraft_sheet", kind=kinds.CHOSEN_NAME, example="SHEET", column=True,
        option="Aircraft sheet, by its name", label="Aircraft sheet",
    ),
    InputField(name="expect", kind=kinds.EXPECTATIONS),
    InputField(name="isa_deviation_c", kind=kinds.TEMPERATURE_DEVIATION),
    InputField(name="equipment", kind=kinds.CODE),
    InputField(name="pbn", kind=kinds.CODE),
    InputField(name="stated_totals", kind=TOTALS, key="total"),
    InputField(
        name="load", kind=LOAD, example="kg ZFW 54200 BLOCK 9100", column=True,
        option="weights and fuel, such as “kg ZFW 54200 BLOCK 9100 TAXI 200”",
    ),
    InputField(name="claims", kind=CLAIMS, key="claim"),
    InputField(name="elapsed", kind=ELAPSED_TIMES),
    InputField(name="delays", kind=DELAYS, key="delay"),
    InputField(name="columns", kind=kinds.COLUMN_CHOICES),
    InputField(name="windows", kind=WINDOWS, key="window"),
    InputField(name="read_across", kind=READ_ACROSS),
    InputField(name="accepted", kind=ACCEPTED),
    InputField(name="changed", kind=CHANGES),
)  # fmt: skip
INPUT_FIELDS = (*_OF_A_VERSION, InputField(name="other", kind=make_version_kind(_OF_A_VERSION)))


@dataclass(frozen=True, slots=True)
class TextReading:
    """What was read from texts: values by the name of their field, and a sentence for each that could not be read."""

    values: dict[str, Any]
    faults: dict[str, str]


def read_texts(texts: Iterable[tuple[InputField, str]]) -> TextReading:
    """The values that texts of one line stand for. A text that cannot be read leaves its value as if none was given."""
    values: dict[str, Any] = {}
    faults: dict[str, str] = {}
    for field, text in texts:
        values[field.name], why = field.kind.read_text(text)
        if why:
            faults[field.name] = why
    return TextReading(values, faults)


def settle_fields(route_input: RouteInput) -> RouteInput:
    """The input with every value in its one form. A text that is none stands in `typed`.

    Readers give values in that form already; another program, or a file of an earlier version, may give any text.
    """
    texts = {field.name: text for field in _FORMS if (text := getattr(route_input, field.name))}
    texts |= {name: text for name, text in route_input.typed if name in _BY_NAME}
    if not texts:
        return route_input
    read = read_texts((_BY_NAME[name], text) for name, text in texts.items())
    values = {name: value for name, value in read.values.items() if value != getattr(route_input, name)}
    if not values and read.faults.keys() == dict(route_input.typed).keys():
        return route_input
    typed = tuple((name, texts[name]) for name in read.faults)
    return replace(route_input, **values, typed=typed)


def read_one_value(name: str, text: str) -> str:
    """A text of a value that is kept as a text, in its one form; "" where it is none."""
    value, why = _BY_NAME[name].kind.read_text(text)
    return "" if why else str(value)


def explain_unread(name: str, text: str) -> str:
    """Why a text of `RouteInput.typed` cannot be read, without the full stop; "" where it can."""
    why: str = _BY_NAME[name].kind.read_text(text)[1] if name in _BY_NAME else f"there is no value called {name}"
    return why


def name_value(name: str) -> str:
    """What a sentence calls the value of that name."""
    field = _BY_NAME.get(name)
    return (field and field.noun) or name.replace("_", " ")


_BY_NAME = {field.name: field for field in INPUT_FIELDS if field.kind.has_line}
_FORMS = tuple(field for field in INPUT_FIELDS if field.kind in kinds.FORM_KINDS)
"""The values that are kept as texts of one form."""


def is_given(route_input: RouteInput, field: InputField) -> bool:
    """Whether the input says anything about a value, readable or not."""
    has_value = field.kind.write_value(getattr(route_input, field.name)) is not None
    return has_value or any(name == field.name for name, _ in route_input.typed)
