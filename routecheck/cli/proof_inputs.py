"""What `routecheck proof` checks: files, folders, standard input and a route in the call, as groups of route inputs."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from routecheck.cli.loading import read_bytes
from routecheck.cli.printing import print_sentence
from routecheck.cli.proof_options import FIELD_OPTIONS
from routecheck.cli.standard_input import NAME, StandardInput
from routecheck.faults import UsageError
from routecheck.formatting import count, listing, quote
from routecheck.model import InputKind, NotUsed, RouteInput
from routecheck.pipeline import CHUNK
from routecheck.reading import rows
from routecheck.reading.decoding import decode
from routecheck.reading.folders import SUFFIXES, list_folder
from routecheck.reading.input_fields import is_given
from routecheck.reading.input_format import ReadingChoices
from routecheck.reading.inputs import read_input, read_row_stream, recognise_format
from routecheck.reading.samples import read_demo_route

if TYPE_CHECKING:
    import argparse
    from collections.abc import Callable, Iterator, Sequence
    from typing import Any

    from routecheck.reading.input_fields import InputField

    _Source = tuple[Iterator[RouteInput], Callable[[], bool]]

_MOST_NAMED = 5


def list_files(names: Sequence[str], *, quiet: bool) -> list[str]:
    """The files given, and those in the folders given. Raises UsageError for what is not there."""
    files: list[str] = []
    for name in names:
        path = Path(name)
        if name != "-" and not path.exists():
            hint = "; a route as text is given with --route" if " " in name.strip() else ""
            raise UsageError(f"there is no file {name}{hint}")
        files += _list_folder(path, quiet=quiet) if name != "-" and path.is_dir() else [name]
    return files


def read_groups(given: argparse.Namespace, files: Sequence[str]) -> Iterator[list[RouteInput]]:
    """Everything to be checked, in order. A group ends where standard input would have to be waited for."""
    group: list[RouteInput] = []
    for route_inputs, would_wait in _open_sources(given, files):
        for route_input in route_inputs:
            group.append(_fill_in(route_input, given))
            if len(group) == CHUNK or would_wait():
                yield group
                group = []
        if group and "-" in files:  # the next source may have to be waited for
            yield group
            group = []
    if group:
        yield group


def _list_folder(folder: Path, *, quiet: bool) -> list[str]:
    """The files in a folder and those below it that are route inputs by their names; the others are named."""
    found, not_read = list_folder(folder)
    if not found:
        raise UsageError(f"there is no route input in the folder {folder}: its name ends in {listing(SUFFIXES, 'or')}")
    if (others := [path.name for path in not_read]) and not quiet:
        more = [f"{len(others) - _MOST_NAMED:,} more"] if len(others) > _MOST_NAMED else []
        print_sentence(
            f"{folder}: {count(len(others), 'file')} not read, by their names no route inputs: "
            f"{listing([*others[:_MOST_NAMED], *more])}"
        )
    return [str(path) for path in found]


def _open_sources(given: argparse.Namespace, files: Sequence[str]) -> Iterator[_Source]:
    if given.demo:
        yield iter([read_demo_route()]), _is_never_stopped
    if given.route is not None:
        yield iter([RouteInput(route=given.route)]), _is_never_stopped
    choices = ReadingChoices(columns=given.columns, group=given.group, by_option=True)
    kind = given.kind or ("rows" if "route=" in given.columns.replace(" ", "").lower() else None)
    for name in files:
        if name == "-":
            yield _open_standard_input(kind, choices)
        else:
            yield read_input(read_bytes(name), name, kind, choices), _is_never_stopped


def _open_standard_input(kind: str | None, choices: ReadingChoices) -> _Source:
    """Rows come one by one, all else once it ends."""
    stream = StandardInput()
    head = decode(stream.read_head())
    known = kind or (recognise_format(head, NAME).name if head else "")
    if head is not None and known == rows.FORMAT.name and not stream.is_wide():
        return read_row_stream(stream.lines(), NAME, choices), stream.would_wait
    return read_input(stream.read_all(), NAME, kind, choices), _is_never_stopped


def _is_never_stopped() -> bool:
    return False


def _get_option(given: argparse.Namespace, field: InputField) -> Any:
    """What the options give for a value, that of its part included; None = nothing."""
    value = getattr(given, field.name)
    return field.kind.complete(value, getattr(given, field.part)) if field.part else value


def _fill_in(route_input: RouteInput, given: argparse.Namespace) -> RouteInput:
    """Fill in what the command line gives where the input says nothing; where it says something else, name that."""
    values: dict[str, Any] = {}
    unused: list[NotUsed] = []
    for field in FIELD_OPTIONS:
        value, own = _get_option(given, field), getattr(route_input, field.name)
        if value is None:
            continue
        if not is_given(route_input, field):
            values[field.name] = value
            continue
        if own:
            values[field.name] = field.kind.complete(own, value)
        if not own or field.kind.complete(value, own) != values[field.name]:
            unused.append(_name_unused(field, value, _write_own(route_input, field), given))
    return _add_unused(replace(route_input, **values), unused) if values or unused else route_input


def _write_own(route_input: RouteInput, field: InputField) -> str:
    """What the input itself states, as one line."""
    typed = dict(route_input.typed)
    return typed.get(field.name) or field.kind.write_text(getattr(route_input, field.name))


def _name_unused(field: InputField, value: Any, own: str, given: argparse.Namespace) -> NotUsed:
    is_part = bool(field.part) and getattr(given, field.name) is None
    option = f"--{field.part}" if is_part else field.option_name
    name = f"{option} {field.kind.write_text(value)}"
    return NotUsed(InputKind.FIELD, name, "", f"the input states {quote(own)} itself")


def _add_unused(route_input: RouteInput, unused: list[NotUsed]) -> RouteInput:
    """Of a row it is a remark: options are there to complete tables. Of any other input it is a value not used."""
    if route_input.origin.line is None:
        return replace(route_input, not_used=(*route_input.not_used, *unused))
    return replace(route_input, remarks=(*route_input.remarks, *(one.sentence for one in unused)))
