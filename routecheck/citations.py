"""The register of documents that limits and checks rest on. One row a document and section; no figures live here."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Citation:
    """A citable document. `note` says how far it was read ("as restated by …", "from memory")."""

    title: str
    section: str
    note: str = ""

    def __str__(self) -> str:
        """The citation as one line."""
        return ", ".join(filter(None, (self.title, self.section))) + (f" ({self.note})" if self.note else "")


OWN_CHOICE = "own-choice"
REGISTER: dict[str, Citation] = {
    OWN_CHOICE: Citation("our choice, calibrated on real published routes", ""),
    "field-15": Citation("ICAO Doc 4444 (PANS-ATM)", "Appendix 2, Item 15", "as restated in public copies"),
    "designators": Citation("ICAO Annex 11", "Appendices 1 to 3"),
    "nat-errors": Citation("NAT Doc 007", "Attachment 4, common errors", "2010 edition"),
    "nat-tolerance": Citation("NAT Sample Oceanic Checklist", "waypoint track and distance"),
    "aim-flight-plan": Citation("FAA AIM", "5-1-8 and Appendix 4", "edition of 20 April 2023"),
    "arinc-424": Citation("ARINC 424-18", "record forms", "columns verified on public data"),
    "airac": Citation("ICAO Annex 15", "6.2, AIRAC cycle", "as restated in public AIS texts"),
    "turn-area": Citation("ICAO Doc 8168 (PANS-OPS) Vol II", "Part III, fly-by turns"),
    "ff-ice-example": Citation("ICAO FF-ICE/R1 manual", "Appendix E-3.7", "as restated by FIXM"),
    "wmm": Citation("World Magnetic Model 2025 report", "NOAA NCEI / British Geological Survey"),
    "geodesics": Citation("C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013)", ""),
    "same-name-reports": Citation("Public accident and occurrence reports", "wrong point of the same name"),
    "cruising-levels": Citation("ICAO Annex 2", "Appendix 3, RVSM table", "as restated in public copies"),
    "half-degree-names": Citation("ARINC 424", "7.2.5", "as restated in UK AIC P 060/2020"),
    "altitude-rules": Citation("FAA AIM", "5-4-1 and 5-4-5, crossing restrictions"),
    "descent-gradients": Citation("FAA Order 8260.3 and FAA-H-8083-16", "descent gradients", "330 ft/NM from memory"),
    "speed-below-10000": Citation("14 CFR 91.117", "aircraft speed"),
    "grid-mora": Citation("ARINC 424-18", "grid MORA record", "columns verified on public data"),
    "airway-classes": Citation("FAA AIM", "5-3-4, airways and route systems"),
    "departure-turns": Citation("FAA AIM", "5-2-9 e, obstacle clearance on departure"),
    "common-practice": Citation("common practice", "", "no source"),
}


def cite(key: str) -> Citation:
    """The document behind a key; KeyError for a key that is not in the register."""
    return REGISTER[key]
