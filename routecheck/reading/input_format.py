"""What a format of inputs is: how it is recognised and read. The formats themselves have modules of their own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from routecheck.formatting import quote
from routecheck.frozen_dataclass import dataclass
from routecheck.reading.decoding import decode

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from routecheck.model import RouteInput

    Reader = Callable[[bytes, str, "ReadingChoices"], Iterator[RouteInput]]


@dataclass(frozen=True, slots=True)
class ReadingChoices:
    """What the user says of an input where its content leaves it open; "" = nothing."""

    columns: str = ""
    """Which column of a table is what: "fix=1,distance=4"."""
    group: str = ""
    """Which route of a FIXM message that holds several."""
    by_option: bool = False
    """Whether a choice is made by an option of the command line: then its name stands where one is missing."""


NO_CHOICES = ReadingChoices()


def split_choices(columns: str) -> tuple[list[str], str]:
    """The single choices of columns, which commas part, and "" or why they are none."""
    choices = [choice.strip() for choice in columns.split(",")] if columns.strip() else []
    fault = f"{quote(columns, 40)} has a comma too many: no choice stands beside it" if "" in choices else ""
    return choices, fault


@dataclass(frozen=True, slots=True, kw_only=True)
class InputFormat:
    """One format of inputs."""

    name: str
    """What the command line calls it."""
    suffixes: tuple[str, ...] = ()
    """What the names of its files end in, in small letters."""
    looks_like: Callable[[str], bool]
    """Whether a text begins as one of this format does."""
    read: Reader
    """Reads bytes with the name that the user gave them: one RouteInput for each route, none where there is nothing."""

    def sniff(self, head: str, name: str) -> bool:
        """Whether an input is of this format, by its name or by the beginning of its text."""
        return name.lower().endswith(self.suffixes) or self.looks_like(head)


def read_whole(read_text: Callable[[str, str], RouteInput]) -> Reader:
    """A reader of inputs that hold one route: all of the text is decoded and given to `read_text` with its name."""

    def read(data: bytes, name: str, _choices: ReadingChoices) -> Iterator[RouteInput]:
        if text := (decode(data) or "").strip():
            yield read_text(text, name)

    return read
