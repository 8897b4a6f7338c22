"""Answers kept for a library: it never changes once made, so that none of them can go stale. None is made here."""

from __future__ import annotations

from typing import TYPE_CHECKING, Generic, TypeVar
from weakref import WeakKeyDictionary

if TYPE_CHECKING:
    from routecheck.navdata.database import NavDatabase

Asked = TypeVar("Asked")
Answer = TypeVar("Answer")


class Memo(Generic[Asked, Answer]):
    """Answers by what was asked, for each library that is still in use; all are let go where they become too many."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._known: WeakKeyDictionary[NavDatabase, dict[Asked, Answer]] = WeakKeyDictionary()

    def of(self, database: NavDatabase) -> dict[Asked, Answer]:
        """The answers kept for a library, to be looked in and added to."""
        known = self._known.setdefault(database, {})
        if len(known) >= self._most:
            known.clear()
        return known
