"""Whose fault it is: the command's caller or a file of our data. Faults of a user's input are never exceptions."""

from __future__ import annotations


class UsageError(Exception):
    """The command was called in a way it cannot follow; the text is for the user."""


class DataError(Exception):
    """A file of our data cannot be used: which, where and why."""

    def __init__(self, file: str, line: int | None, why: str) -> None:
        self.file, self.line, self.why = file, line, why
        super().__init__(f"{file}, line {line}: {why}" if line else f"{file}: {why}")
