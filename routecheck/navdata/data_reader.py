"""What a reader of one form of navigation data must do. The readers there are stand in `readers`."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable

    from routecheck.model import CodedBranch
    from routecheck.navdata.archives import Member
    from routecheck.navdata.tables import Records, Tables

MOST_LISTED = 1_000
"""So many records that cannot be used are listed one by one; all are counted."""


class NothingUsableError(Exception):
    """A text holds nothing that can be used; the message says why, to go on after a colon."""


class TerminalFixes(NamedTuple):
    """Idents of fixes of an airport's procedures, those of missed approaches left out."""

    feeders: frozenset[str]
    """The fixes at which its approaches begin."""
    all: frozenset[str]
    """All of them."""


class AirportProcedures(Protocol):
    """The procedures of one airport, each decoded when it is asked for."""

    def branches(self, kind: str, name: str) -> tuple[CodedBranch, ...]:
        """The branches of a SID, STAR or APPROACH (`kind`), in the order of the data; () where there is none.

        A field that cannot be read is None, a fix that is nowhere in the data has no place: never an exception.
        """

    def terminal_fixes(self) -> TerminalFixes:
        """The fixes by which the procedures go; asked of many airports, so that it must cost little."""


class DataReader(Protocol):
    """Reads one form of navigation data into Tables.

    Coded legs stay as they are in an opaque block per airport: decoding those of a whole country takes seconds, and a
    route asks for a few. The block names its reader, who decodes it again whenever it comes out of the store.
    """

    name: str
    """What blocks name their reader by."""
    form: str
    """What the user calls the form: "ARINC 424 records"."""

    def sniff(self, head: bytes) -> bool:
        """Whether a text that begins so (its first megabyte) is of this form."""

    def read(self, text: Member, source: str, progress: Callable[[float], None]) -> Tables:
        """Read a text; its DataSource bears the name `source`, and lists the records that cannot be used.

        `progress` gets the share read and may raise to stop. Raises NothingUsableError.
        """

    def procedures(self, airport: str, block: bytes, records: Records) -> AirportProcedures:
        """Open the block of an airport; the places that its legs refer to are in `records`."""
