"""The coded procedures and places of the demo region, and the names along a path. No tests here."""

from collections.abc import Iterator

from routecheck.model import (
    CodedProcedure,
    FlownProcedure,
    Place,
    ProcedurePath,
)
from routecheck.navdata.database import demo_database

DEMO = demo_database()
DEMO_AIRPORTS = ("XVAL", "XVOR", "XVMA", "XVKE", "XVDU", "XVSU")
KINDS = ("SID", "STAR", "APPROACH")


def coded(airport: str, kind: str, name: str) -> CodedProcedure:
    found = DEMO.procedure(airport, kind, name)
    assert found is not None
    return found


def names(found: ProcedurePath | FlownProcedure) -> list[str]:
    return [point.name for point in found.points]


def place(ident: str) -> Place:
    return DEMO.places(ident)[0]


def demo_procedures() -> Iterator[CodedProcedure]:
    for airport in DEMO_AIRPORTS:
        for kind in KINDS:
            for name in DEMO.procedure_names(airport, kind):
                yield coded(airport, kind, name)
