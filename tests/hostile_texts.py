"""Routes that nobody files, each made to be as long as wanted: what may cost most in a word of a route."""

from __future__ import annotations

import itertools
import random
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

MakeText = Callable[[int], str]
"""Makes a text of so many words."""


@dataclass(frozen=True, kw_only=True)
class Names:
    """What the data has, to make routes of."""

    points: Sequence[str]
    namesakes: Sequence[str]
    """Names that several places share."""
    airways: Sequence[str]
    station: str
    procedure: str
    airports: tuple[str, str]
    on_airway: tuple[str, str, str]
    """A point, an airway through it, and another point of that airway."""


DEMO_NAMES = Names(
    points=[
        "LENDU", "PIKAR", "UVAGI", "SARNO", "TOVIK", "MUVEK", "KORAM", "ROPIN", "DUSKA", "PIKOR", "SEBRO", "VELMI"
    ],
    namesakes=["PIKOR", "DUL", "KEL"],
    airways=["UM12", "UN21", "UN34", "UN46", "J61", "M12", "V14", "V27", "V40", "T16", "UL7", "J30"],
    station="DUL",
    procedure="LENDU1",
    airports=("XVAL", "XVOR"),
    on_airway=("LENDU", "UM12", "PIKAR"),
)  # fmt: skip


def hostile_texts(names: Names) -> dict[str, MakeText]:
    start, airway, end = names.on_airway
    other = next(one for one in names.airways if one != airway)
    changed = [f"{point}/N0{430 + i % 60}F{300 + i % 90}" for i, point in enumerate(names.points)]
    climbing = [f"C/{point}/N0450F310F330" for point in names.points]
    return {
        "an airway repeated": lambda count: " ".join([start, *[airway] * (count - 2), end]),
        "an airway repeated and others": lambda count: " ".join([airway] * (count // 2) + [other] * (count // 2)),
        "two airways in turn": lambda count: f"{start} {_repeat(airway, other)(count - 2)} {end}",
        "airways at random": _choose(names.airways),
        "an airway to and fro": _repeat(start, airway, end, airway),
        "a point repeated": _repeat(start),
        "two points in turn": _repeat(start, end),
        "points at random": _choose(names.points),
        "points and airways at random": _choose([*names.points, *names.airways]),
        "names of several places": _repeat(*names.namesakes),
        "names of several places by airway": _repeat(*itertools.chain(*zip(names.namesakes, names.airways))),  # noqa: B905
        "airports in turn": _repeat(*names.airports),
        "DCT repeated": _repeat("DCT"),
        "a zigzag": lambda count: " ".join(f"{30 + 20 * (i % 2)}N{20 + i % 100:03d}W" for i in range(count)),
        "crossings everywhere": _wander,
        "radials of one station": lambda count: " ".join(f"{names.station}{1 + i * 7 % 360:03d}" for i in range(count)),
        "radials and airways": _repeat(f"{names.station}341", airway, f"{names.station}090", other),
        "radials with distances": lambda count: " ".join(
            f"{names.station}{1 + i * 7 % 360:03d}{1 + i % 200:03d}" for i in range(count)
        ),
        "one letter off": lambda count: " ".join(f"{start[:2]}{chr(65 + i % 26)}{start[3:]}" for i in range(count)),
        "unknown names": _repeat("QQXQQ", "QXQXQ"),
        "unknown airways": _repeat("Z999", "Z998"),
        "unread words": _repeat("??", "#!"),
        "a procedure repeated": _repeat(names.procedure),
        "digits": lambda count: " ".join(str(i) for i in range(count)),
        "speed and level at each point": _repeat(*changed),
        "cruise climbs": _repeat(*climbing),
    }


def _repeat(*words: str) -> MakeText:
    return lambda count: " ".join(itertools.islice(itertools.cycle(words), count))


def _choose(words: Collection[str]) -> MakeText:
    pool = list(words)
    return lambda count: " ".join(random.Random(1).choices(pool, k=count))


def _wander(count: int) -> str:
    """Positions all over an ocean, none like another before the 21,600th."""
    return " ".join(f"{20 + i % 60:02d}{i // 60 % 60:02d}N{i * 37 % 180:03d}{i * 7 % 60:02d}W" for i in range(count))
