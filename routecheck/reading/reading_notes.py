"""What a reader notes while it reads: what it assumed, and what of the input it does not use."""

from __future__ import annotations

import logging
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from routecheck.faults import describe_failure
from routecheck.formatting import short
from routecheck.model import InputKind, NotUsed

if TYPE_CHECKING:
    from collections.abc import Container, Iterable, Iterator

_LONGEST_NAME = 60
_LOG = logging.getLogger(__name__)


@dataclass(slots=True)
class ReadingNotes:
    """Collects notes in the order in which they are made."""

    remarks: list[str] = field(default_factory=list)
    """What was assumed, in sentences."""
    not_used: list[NotUsed] = field(default_factory=list)

    def refuse(self, name: str, because: str, *, where: str = "", what: InputKind = InputKind.FIELD) -> None:
        """Note that something is not used, and why."""
        self.not_used.append(NotUsed(what, short(name, _LONGEST_NAME), where, because))

    @contextmanager
    def fence(self, name: str) -> Iterator[None]:
        """Let what raises while something is read cost that alone, and note it."""
        try:
            yield
        except Exception as error:
            _LOG.exception("%s could not be read", name)
            self.refuse(name, describe_failure(error))

    def refuse_unknown_keys(self, keys: Iterable[str], known: Container[str], where: str = "") -> None:
        """Note which keys there are none of."""
        for key in keys:
            if key not in known:
                self.refuse(key, "there is no such key", where=where, what=InputKind.KEY)
