"""Likely-intended corrections: what was probably meant, with its evidence. Values only."""

from __future__ import annotations

from dataclasses import KW_ONLY
from typing import TYPE_CHECKING

from routecheck.frozen_dataclass import dataclass

if TYPE_CHECKING:
    from routecheck.model.altitudes import AltitudeWindow
    from routecheck.model.text import Span
    from routecheck.model.usage import UsageEvidence


@dataclass(frozen=True, slots=True)
class Correction:
    """One correction of a stretch: `new` typed instead of `old`; `entry_error` says what it undoes.

    `span` is what is replaced in the route text, None = an airport given beside it. `gain` is what the correction wins
    in plausibility (log-odds, our own scale); `shorter_nm` and `straighter_deg` what the stretch loses in length and
    turning (sphere, to choose by); `defects` how many contradictions to the data it clears.
    """

    span: Span | None
    old: str
    new: str
    _: KW_ONLY
    entry_error: str
    gain: float
    shorter_nm: float
    straighter_deg: float
    defects: int
    departure: str = ""
    destination: str = ""
    """The aerodromes beside the text as they would be, where the correction is of them."""
    evidence: UsageEvidence | None = None
    """What known routes say for it; None = nothing, or none are loaded."""


@dataclass(frozen=True, slots=True)
class BestEdit:
    """The corrections of one stretch, best first; `first` and `last` are the route points around it.

    `alike` are those of them that cannot be told from the best and are named with it: () = it may be named alone.
    """

    corrections: tuple[Correction, ...]
    first: int
    last: int
    alike: tuple[Correction, ...] = ()


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One value beside the text as it would be: `field` is its name in RouteInput, "windows" for one of the windows.

    Of a window `old` is the one that stands there now, and `new` what would stand in its place.
    """

    field: str
    old: str | AltitudeWindow
    new: str | AltitudeWindow


@dataclass(frozen=True, slots=True)
class Proposal:
    """A correction that was tried and clears the finding it stands under, raising nothing heavier.

    `route` is the whole corrected text; `why` the evidence in words; `clears` the checks whose findings go away;
    `distance_nm` what the route measures then. `span` None = the text stays; `beside` tells which values beside it
    change, () = none. `entry_error` is the kind of entry error that it undoes, "" where it is of none of the kinds.
    """

    span: Span | None
    new: str
    route: str
    _: KW_ONLY
    why: str
    clears: tuple[str, ...]
    distance_nm: float
    beside: tuple[FieldChange, ...] = ()
    entry_error: str = ""
