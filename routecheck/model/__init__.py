"""The frozen values that travel through the pipeline. No computing lives here, and nothing of ours is imported.

Positions are degrees, north and east positive. A figure that is not known is None, never NaN and never zero.
"""

from routecheck.model.aircraft import AircraftSheet
from routecheck.model.cautions import CAUTION, CAUTION_IN_FULL, NOT_LOOKED_AT
from routecheck.model.data import NAVAIDS, Airway, AirwaySegment, DataSource, Place, PlaceKind, Runway
from routecheck.model.finding import Assessment, Fact, Finding, NotChecked, Outcome, Weight
from routecheck.model.heights import Window
from routecheck.model.intended import BestEdit, Correction, Proposal
from routecheck.model.route import (
    Joint,
    Leg,
    Link,
    LostChoice,
    Point,
    ResolvedRoute,
    Route,
    Stop,
    Stretch,
    Totals,
    Trouble,
    VariationFrom,
    Via,
)
from routecheck.model.text import (
    Accepted,
    Claim,
    Entry,
    ParsedRoute,
    Position,
    PositionForm,
    Role,
    Span,
    Word,
    WordKind,
)
from routecheck.model.wind import Wind

__all__ = [
    "CAUTION",
    "CAUTION_IN_FULL",
    "NAVAIDS",
    "NOT_LOOKED_AT",
    "Accepted",
    "AircraftSheet",
    "Airway",
    "AirwaySegment",
    "Assessment",
    "BestEdit",
    "Claim",
    "Correction",
    "DataSource",
    "Entry",
    "Fact",
    "Finding",
    "Joint",
    "Leg",
    "Link",
    "LostChoice",
    "NotChecked",
    "Outcome",
    "ParsedRoute",
    "Place",
    "PlaceKind",
    "Point",
    "Position",
    "PositionForm",
    "Proposal",
    "ResolvedRoute",
    "Role",
    "Route",
    "Runway",
    "Span",
    "Stop",
    "Stretch",
    "Totals",
    "Trouble",
    "VariationFrom",
    "Via",
    "Weight",
    "Wind",
    "Window",
    "Word",
    "WordKind",
]
