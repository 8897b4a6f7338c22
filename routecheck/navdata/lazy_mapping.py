"""Mappings whose keys and values are fetched when they are first asked for. Where from is not known here."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import TYPE_CHECKING, Any, TypeVar

from routecheck.model import Place
from routecheck.navdata.tables import PlaceRef

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterable, KeysView

K = TypeVar("K")
V = TypeVar("V")


class LazyMapping(Mapping[K, V]):
    """A mapping whose keys are fetched when first needed, and each value when first asked for."""

    def __init__(self, keys: Callable[[], Iterable[K]], fetch: Callable[[K], V]) -> None:
        self._fetch_keys, self._fetch = keys, fetch
        self._known: dict[K, V] = {}

    @cached_property
    def _keys(self) -> dict[K, None]:
        return dict.fromkeys(self._fetch_keys())

    def __getitem__(self, key: K) -> V:
        value = self._known.get(key)
        if value is None:
            if key not in self._keys:
                raise KeyError(key)
            value = self._known.setdefault(key, self._fetch(key))  # two threads that fetch at once get the same
        return value

    def get(self, key: K, default: Any = None) -> Any:
        """The value; `default` where there is none."""
        return self[key] if key in self._keys else default

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def keys(self) -> KeysView[K]:
        """The keys: as quick to search as those of a dict."""
        return self._keys.keys()

    def __iter__(self) -> Iterator[K]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)


class PlacesByIdent(Mapping[str, "Collection[Place]"]):
    """Places by ident, out of those grouped by ident."""

    def __init__(self, groups: Mapping[str, Mapping[PlaceRef, Place]]) -> None:
        self._groups = groups

    def __getitem__(self, ident: str) -> Collection[Place]:
        return self._groups[ident].values()

    def __contains__(self, ident: object) -> bool:
        return ident in self._groups

    def keys(self) -> KeysView[str]:
        """The idents."""
        return self._groups.keys()

    def __iter__(self) -> Iterator[str]:
        return iter(self._groups)

    def __len__(self) -> int:
        return len(self._groups)


class PlacesByRef(Mapping[PlaceRef, Place]):
    """Places by reference, out of those grouped by ident."""

    def __init__(self, groups: Mapping[str, Mapping[PlaceRef, Place]]) -> None:
        self._groups = groups

    def __getitem__(self, ref: PlaceRef) -> Place:
        return self._groups[ref[2]][ref]

    def __contains__(self, ref: object) -> bool:
        return isinstance(ref, tuple) and ref in self._groups.get(ref[2], {})

    def __iter__(self) -> Iterator[PlaceRef]:
        for group in self._groups.values():
            yield from group

    def __len__(self) -> int:
        return sum(map(len, self._groups.values()))
