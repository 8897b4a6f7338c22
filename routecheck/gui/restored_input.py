"""A RouteInput from the plain JSON of a saved session. Nothing of a wrong type comes through: it would fail later."""

from __future__ import annotations

import dataclasses
import math
from typing import TYPE_CHECKING, Any

from routecheck.gui.input_bounds import LONGEST_TEXT, describe_too_long
from routecheck.gui.restored_paste import restore_paste
from routecheck.model import InputKind, NotUsed, RouteInput
from routecheck.reading.input_fields import INPUT_FIELDS

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

_PLAIN_TEXTS = ("name", "unread")
"""What a RouteInput says beside the values that can be given with a route."""
_JSON_TYPES: dict[type, type] = {str: str, tuple: list}
"""What JSON makes of the values of a RouteInput."""
_TYPES: dict[str, type | tuple[type, ...]] = {
    "str": str,
    "bool": bool,
    "int": int,
    "float": (int, float),
    "None": type(None),
}


def restore_input(values: Mapping[str, Any]) -> RouteInput:
    """Make the RouteInput again. Raises KeyError, TypeError or ValueError where the values are none of one."""
    given = {}
    for field in INPUT_FIELDS:
        if (value := values.get(field.name, values.get(field.part))) is not None:
            _require_json_type(field.name, value)
            given[field.name] = field.kind.restore(value)
    restored = RouteInput(
        **{"route": "", **{name: _text(values.get(name, "")) for name in _PLAIN_TEXTS}, **given},
        remarks=tuple(map(_text, values.get("remarks", ()))),
        not_used=tuple(map(_restore_not_used, values.get("not_used", ()))),
        typed=tuple((_text(name), _text(text)) for name, text in values.get("typed", ())),
        pasted=restore_paste(values["pasted"]) if values.get("pasted") is not None else None,
    )
    for version in filter(None, (restored, restored.other)):
        for part in _parts(version):
            _require_types(part)
    if len(restored.route) > LONGEST_TEXT:
        raise ValueError(describe_too_long(restored.route))
    return restored


def _restore_not_used(values: Mapping[str, Any]) -> NotUsed:
    return NotUsed(InputKind(values["what"]), *(_text(values[key]) for key in ("name", "where", "because")))


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("a text was expected")
    return value


_DEFAULTS = {field.name: field.default for field in dataclasses.fields(RouteInput)}


def _require_json_type(name: str, value: object) -> None:
    wanted = str if name == "route" else _JSON_TYPES.get(type(_DEFAULTS[name]))
    if wanted is not None and not isinstance(value, wanted):
        raise TypeError(f"{name} is of a wrong type")


def _parts(restored: RouteInput) -> Iterator[object]:
    """The values of it that have fields of their own, as claims and windows."""
    for field in INPUT_FIELDS:
        value = getattr(restored, field.name)
        yield from (part for part in (value if isinstance(value, tuple) else (value,)) if _has_fields(part))


def _has_fields(value: object) -> bool:
    return dataclasses.is_dataclass(value) and not isinstance(value, type)


def _require_types(part: Any) -> None:
    """Raise TypeError where a field of a value is not what its class says: texts, numbers and truth values."""
    for field in dataclasses.fields(part):
        wanted = [_TYPES.get(name) for name in str(field.type).split(" | ")]
        value = getattr(part, field.name)
        if None not in wanted and not any(_is_of(value, one) for one in wanted):
            raise TypeError(f"{field.name} is of a wrong type")


def _is_of(value: object, wanted: Any) -> bool:
    if isinstance(value, bool) or wanted is bool:
        return isinstance(value, bool) and wanted is bool
    return isinstance(value, wanted) and (not isinstance(value, float) or math.isfinite(value))
