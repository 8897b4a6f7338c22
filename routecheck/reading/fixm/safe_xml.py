"""XML read piece by piece: no document type, no entity, no network, no tree that grows. No meaning of it here."""

from __future__ import annotations

import io
import re
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from collections.abc import Iterator
    from typing import Any

_MOST_WITHIN = 5_000
"""Elements within one that is kept whole (our choice: a route element of FIXM has some dozens)."""
_MOST_NAMES = 2_000
"""Names of elements in one text (our choice: the schema of FIXM has some hundreds)."""
_DOCUMENT_TYPE = re.compile(rb"<\0?!\0?D\0?O\0?C\0?T\0?Y\0?P\0?E", re.IGNORECASE)


class XmlError(Exception):
    """A text that is no XML, or none that is read: the message is a sentence for the user."""


class XmlElement(NamedTuple):
    """An element that has just ended. `path` are the local names from the root down to it."""

    path: tuple[str, ...]
    node: Any
    """The element of lxml, with its children where it lies within one that is kept whole."""
    between: str
    """What stands in it beside its child elements, where it has any."""


def iterate_elements(data: bytes, kept_whole: str) -> Iterator[XmlElement]:
    """Every element as it ends, leaves first; what has been seen is thrown away.

    Inside an element named `kept_whole` children stay until it ends, so that it comes with all it holds.
    """
    from lxml import etree  # here, because most inputs are no XML

    if _DOCUMENT_TYPE.search(data):
        raise XmlError("the XML has a document type (DOCTYPE), which is never read: it could bring in anything")
    path: list[str] = []
    between: list[list[str | None]] = [[]]
    bounds = _Bounds(kept_whole)
    try:
        events = etree.iterparse(
            io.BytesIO(data), events=("start", "end"), resolve_entities=False, no_network=True, huge_tree=False
        )
        for event, node in events:
            name = node.tag.rpartition("}")[2]  # a namespace may hold what no name of lxml may
            if event == "start":
                bounds.count(name, is_kept=kept_whole in path)
                path.append(name)
                between.append([])
                continue
            beside = [*between.pop(), *(child.tail for child in node), node.text if len(node) else None]
            yield XmlElement(tuple(path), node, " ".join(" ".join(filter(None, beside)).split()))
            path.pop()
            if kept_whole not in path:
                between[-1] += _throw_away(node)
    except etree.XMLSyntaxError as error:
        raise XmlError(f"the XML is broken: {_say_briefly(error)}") from None


class _Bounds:
    """Counts what is kept, so that no text takes more memory than a flight could: raises XmlError beyond."""

    def __init__(self, kept_whole: str) -> None:
        self._kept_whole = kept_whole
        self._names: set[str] = set()
        self._within = 0

    def count(self, name: str, *, is_kept: bool) -> None:
        """Count an element that begins; `is_kept` = it lies within one that is kept whole."""
        self._names.add(name)
        self._within = self._within + 1 if is_kept else 0
        if self._within > _MOST_WITHIN:
            raise XmlError(f"an {self._kept_whole} of the XML holds more than {_MOST_WITHIN:,} others: no flight does")
        if len(self._names) > _MOST_NAMES:
            raise XmlError(f"the XML has more than {_MOST_NAMES:,} names of elements: no flight of FIXM has so many")


def _throw_away(node: Any) -> list[str | None]:
    """Drop what has been seen; gives what stood behind it."""
    node.clear(keep_tail=True)
    tails = []
    parent = node.getparent()
    while parent is not None and node.getprevious() is not None:
        tails.append(parent[0].tail)
        del parent[0]
    return tails


def _say_briefly(error: Exception) -> str:
    sentence = " ".join(str(error).split())[:120]
    return sentence[:1].lower() + sentence[1:]
