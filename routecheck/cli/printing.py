"""The one way to the terminal: everything printed passes here, so that nothing pasted, read or named commands it."""

from __future__ import annotations

import codecs
import os
import re
import shutil
import sys
from typing import TYPE_CHECKING, TextIO

from routecheck.faults import UsageError, system_reason
from routecheck.files import draft_in

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

CANNOT_SHOW = "routecheck"
"""The name of what is done about characters that a stream cannot encode."""
COLOURS = ("auto", "always", "never")
"""When marks are coloured."""
_SHADES = {"■": "38;5;166", "◆": "38;5;172", "○": "38;5;245"}
"""The nearest shades of a terminal to those of the window."""
_MARKED = re.compile(r"^ *([■◆○])( \d+)? (?:Wrong|Doubtful|Note)", re.MULTILINE)
_NARROWEST, _WIDEST = 60, 160
_PLAIN = str.maketrans(
    {
        "■": "#", "◆": "*", "○": "o", "●": "o", "…": "...", "–": "-", "—": "-", "−": "-", "·": ".", "×": "x",
        "°": " deg ", "′": "'", "″": '"', "“": '"', "”": '"', "’": "'", "‘": "'", "→": "->", "≥": ">=", "≤": "<=",
        "±": "+/-", "«": "<<", "»": ">>", "▸": ">", "✓": "v", "²": "2", "³": "3",
    }
)  # fmt: skip


def make_visible(text: str) -> str:
    """The text with every character that is not printed, but commands, hides or reorders, as its escape. Lines stay."""
    if text.replace("\n", "").isprintable():
        return text
    return "".join(char if char.isprintable() or char == "\n" else _escape(char) for char in text)


def _escape(char: str) -> str:
    return char.encode("unicode_escape").decode("ascii")


def prepare_streams() -> None:
    """Let standard output and error show every character in some way, whatever the terminal can encode."""
    codecs.register_error(CANNOT_SHOW, _replace_in_ascii)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors=CANNOT_SHOW)


def _replace_in_ascii(error: UnicodeError) -> tuple[str, int]:
    assert isinstance(error, UnicodeEncodeError)
    lost = error.object[error.start : error.end].translate(_PLAIN)
    return "".join(char if char.isascii() else _escape(char) for char in lost), error.end


def print_text(text: str, *, in_colour: bool = False) -> None:
    """Write text to standard output as it is, but for what would command a terminal."""
    if sys.stdout is None:
        raise UsageError("the output cannot be written: standard output is closed")
    visible = make_visible(text)
    sys.stdout.write(_MARKED.sub(_paint, visible) if in_colour else visible)


def _paint(found: re.Match[str]) -> str:
    return f"\x1b[{_SHADES[found[1]]}m{found[0]}\x1b[0m"


def wants_colour(asked: str) -> bool:
    """Whether marks are coloured: as asked, or on a terminal unless the environment says no."""
    if asked != "auto":
        return asked == "always"
    return is_terminal(sys.stdout) and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def text_width(usual: int) -> int:
    """How many characters a line of text may have: as many as the terminal has, within reason."""
    if not is_terminal(sys.stdout):
        return usual
    return min(max(shutil.get_terminal_size((usual, 0)).columns, _NARROWEST), _WIDEST)


def write_to_file(path: Path, pieces: Iterable[str]) -> None:
    """Write text to a file, whole or not at all; a device or pipe takes it as it comes. Raises UsageError."""
    try:
        if path.exists() and not path.is_file():
            with path.open("w", encoding="utf-8") as stream:
                stream.writelines(map(make_visible, pieces))
            return
        path = path.resolve()
        with draft_in(path.parent) as draft:
            for piece in pieces:
                draft.stream.write(make_visible(piece).encode())
            draft.put_in_place(path)
    except OSError as error:
        raise UsageError(f"{path} cannot be written: {system_reason(error)}") from None


def flush_output() -> None:
    """Hand on what was printed so far."""
    if sys.stdout is not None:
        sys.stdout.flush()


def abandon_output() -> None:
    """Let what is still to be printed go nowhere: nobody reads it, and the interpreter flushes once more at exit."""
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, sys.stdout.fileno())
    os.close(nowhere)


def print_sentence(sentence: str) -> None:
    """Write one sentence of ours to standard error, on one line."""
    line = make_visible(sentence.replace("\n", " "))
    _write_error(f"{line}\n")


def print_complaint(sentence: str) -> None:
    """Write to standard error why the program could not do something."""
    print_sentence(f"routecheck: {sentence}")


def print_over_line(text: str) -> None:
    """Write over the line of standard error on which the cursor stands."""
    _write_error(f"\r{make_visible(text)}")


def is_terminal(stream: TextIO | None) -> bool:
    """Whether somebody looks at a stream."""
    return stream is not None and stream.isatty()


def _write_error(text: str) -> None:
    if sys.stderr is not None:
        sys.stderr.write(text)
        sys.stderr.flush()
