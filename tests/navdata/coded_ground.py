"""An airport with the points around it, as ARINC 424 records, and coded legs decoded upon it. No tests here."""

from arinc_records import HEADERS, airport, coded, fix, localizer, ndb, read, runway, terminal_fix, vhf

from routecheck.model import CodedLeg, CodedProcedure
from routecheck.navdata.database import NavDatabase

GROUND = [
    *HEADERS,
    airport("XVZZ", -31.0, 12.0),
    runway("XVZZ", "RW09", -31.0, 11.95),
    fix("ZAQIP", -31.0, 13.0),
    terminal_fix("XVZZ", "KOLOZ", -31.1, 12.2),
    terminal_fix("XVYY", "KOLOZ", -35.0, 15.0),
    vhf("ZQV", (-31.0, 12.1), (-31.0, 12.1), declination="W0210"),
    vhf("IZZ", None, (-31.0, 12.05), airport="XVZZ", letter="I"),
    ndb("ZB", -31.2, 12.3, airport="XVZZ"),
    localizer("XVZZ", "IZZ", -31.0, 12.07),
]


def database(*records: str) -> NavDatabase:
    return NavDatabase.from_tables(read([*GROUND, *records], "test"))


def only_leg(**more: str) -> CodedLeg:
    data = database(coded("XVZZ", "F", "I09", "I", "", 10, more.pop("leg_type", "TF"), **more))
    found = data.procedure("XVZZ", "APPROACH", "I09")
    assert found is not None
    ((leg,),) = (branch.legs for branch in found.branches)
    return leg


def decoded(*records: str, kind: str = "SID", name: str = "ZAQIP1") -> CodedProcedure:
    found = database(*records).procedure("XVZZ", kind, name)
    assert found is not None
    return found
