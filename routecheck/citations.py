"""The register of documents that limits and checks rest on, a row for each document and section. It has no figures."""

from __future__ import annotations

from routecheck.frozen_dataclass import dataclass


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
    OWN_CHOICE: Citation("our choice", ""),
    "field-8": Citation("ICAO Doc 4444 (PANS-ATM)", "Appendix 2, Item 8", "as restated in public copies"),
    "field-10": Citation("ICAO Doc 4444 (PANS-ATM)", "Appendix 2, Item 10", "W as restated by FIXM 4.3"),
    "field-15": Citation("ICAO Doc 4444 (PANS-ATM)", "Appendix 2, Item 15", "as restated in public copies"),
    "field-18": Citation("ICAO Doc 4444 (PANS-ATM)", "Appendix 2, Item 18", "as restated in public copies"),
    "designators": Citation("ICAO Annex 11", "Appendices 1 to 3"),
    "nat-errors": Citation("NAT Doc 007", "Attachment 4, common errors", "2010 edition"),
    "nat-gross-errors": Citation("NAT Doc 007", "15.3.1, causes of gross navigation errors", "2010 edition"),
    "nat-tolerance": Citation("NAT Sample Oceanic Checklist", "waypoint track and distance", "19 June 2009"),
    "arinc-424": Citation("ARINC 424-18", "record forms", "columns verified on public data"),
    "airac": Citation("ICAO Annex 15", "6.2, AIRAC cycle", "as restated in public AIS texts"),
    "turn-area": Citation(
        "ICAO Doc 8168 (PANS-OPS) Vol II", "I-2-3-2, turn radius; III-2-1 and III-3-8-2, fly-by turns", "5th edition"
    ),
    "straight-departures": Citation("ICAO Doc 8168 (PANS-OPS) Vol II", "Part I, Section 3, departures", "5th edition"),
    "ff-ice-example": Citation("ICAO FF-ICE/R1 manual", "Appendix E-3.7", "as restated by FIXM"),
    "wmm": Citation(
        "World Magnetic Model 2025 report", "NOAA NCEI / British Geological Survey", "as restated in public copies"
    ),
    "geodesics": Citation("C. F. F. Karney, Algorithms for geodesics, J. Geodesy 87 (2013)", ""),
    "same-name-reports": Citation(
        "Aeronautica Civil of Colombia, accident near Cali on 20 December 1995; NASA ASRS 449151 and 1655604",
        "wrong point of the same name",
    ),
    "entry-error-reports": Citation(
        "NASA ASRS 410460, 877847 and 1012227", "letters and digits exchanged", "reporters' own accounts"
    ),
    "letters-exchanged-report": Citation("NASA ASRS 877847", "KDXYU and KDYXU", "reporter's own account"),
    "letter-for-figure-report": Citation(
        "NASA ASRS 961171", "KI570 with a letter for a figure, 28 miles off", "reporter's own account"
    ),
    "digits-exchanged-report": Citation(
        "NASA ASRS 1012227", "KD45U and KD54U, missed by the total distance", "reporter's own account"
    ),
    "position-digit-report": Citation(
        "NASA ASRS 410460; loss of flight TE901 at Mount Erebus on 28 November 1979",
        "N5330W090 and N5530W090; 166°48′E typed as 164°48′E",
        "the first a reporter's own account",
    ),
    "hemisphere-report": Citation(
        "NASA ASRS 973308", "S02W020 and N02W020, the total 40 miles different", "reporter's own account"
    ),
    "airway-exit-report": Citation(
        "NASA ASRS 82259", "J1 typed to an airport that is not on it: made direct, a fix lost", "reporter's own account"
    ),
    "airway-entry-report": Citation("NASA ASRS 353530", "J92 joined at a fix not on it", "reporter's own account"),
    "procedure-choice-report": Citation(
        "NASA ASRS 981435", "a departure entered with another transition", "reporter's own account"
    ),
    "altitude-reports": Citation(
        "NASA ASRS 128147 and 136593", "crossing altitudes entered with a digit wrong", "reporters' own accounts"
    ),
    "cruising-levels": Citation("ICAO Annex 2", "Appendix 3, RVSM table", "as restated in public copies"),
    "half-degree-names": Citation("ARINC 424", "7.2.5", "as restated in UK AIC P 060/2020"),
    "altitude-rules": Citation("FAA AIM", "5-4-1 and 5-4-5, crossing restrictions"),
    "descent-gradients": Citation("FAA-H-8083-16", "page 3-12, 318 ft/NM for a descent of 3°"),
    "rule-of-three": Citation("FAA-H-8083-16", "3 NM for every 1,000 ft, rule of thumb"),
    "speed-below-10000": Citation("14 CFR 91.117", "aircraft speed"),
    "vfr-reserve": Citation("14 CFR 91.151", "fuel requirements for flight in VFR conditions"),
    "ifr-reserve": Citation("14 CFR 91.167", "fuel requirements for flight in IFR conditions"),
    "domestic-reserve": Citation("14 CFR 121.639", "fuel supply, all domestic operations"),
    "flag-reserve": Citation(
        "14 CFR 121.645", "fuel supply, turbine-engine airplanes, flag and supplemental operations"
    ),
    "annex-6-reserve": Citation(
        "ICAO Annex 6 Part I", "4.3.6, fuel requirements", "as restated by States; numbered otherwise in other editions"
    ),
    "grid-mora": Citation("ARINC 424-18", "grid MORA record", "columns verified on public data"),
    "airway-classes": Citation("FAA AIM", "5-3-4, airways and route systems"),
    "airspace-classes": Citation("ICAO Annex 11", "Appendix 4, classes of airspace"),
    "departure-altitudes": Citation("FAA AIM", "5-2-9, departure procedures"),
    "departure-turns": Citation("FAA AIM", "5-2-9 e, obstacle clearance on departure"),
}


def cite(key: str) -> Citation:
    """The document behind a key; KeyError for a key that is not in the register."""
    return REGISTER[key]
