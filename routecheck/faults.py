"""Exceptions by whose fault it is: the caller's of a command, or a data file's. A user's input never raises."""

from __future__ import annotations

_LONGEST = 120
"""Characters of what an exception says."""


class UsageError(Exception):
    """The command was called in a way it cannot follow; the text is for the user."""


class DataError(Exception):
    """A file of our data cannot be used: which, where and why."""

    def __init__(self, file: str, line: int | None, why: str) -> None:
        self.file, self.line, self.why = file, line, why
        super().__init__(f"{file}, line {line}: {why}" if line else f"{file}: {why}")

    def __reduce__(self) -> tuple[type[DataError], tuple[str, int | None, str]]:
        """Copy to another process by what it was made of."""
        return DataError, (self.file, self.line, self.why)


class LostProcessError(Exception):
    """A process of ours ended before its work was done; the text is for the user."""


def system_reason(error: OSError) -> str:
    """What the system says of a fault, worded to follow a colon."""
    return (error.strerror or str(error)).lower()


def describe_failure(error: Exception) -> str:
    """That our program failed, and on what, worded to follow a colon; cut short, for it may quote the input."""
    return f"our program failed on it ({type(error).__name__}: {str(error)[:_LONGEST]})"
