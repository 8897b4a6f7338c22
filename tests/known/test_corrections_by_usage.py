"""Known routes tell which of several sound corrections was meant, and say so."""

import sqlite3

from known_lists import assessed, known_routes

from routecheck.known.known_routes import KnownRoutes
from routecheck.model import Weight

KNOWN = known_routes(
    "LENDU UM12 TOVIK SARNO", "VAL UM12 TOVIK SARNO", "LENDU UM12 TOVIK SARNO NILAK", "LENDU UM12 RULPO SARNO"
)


def first(route, known):
    """The heaviest finding, and what it proposes first."""
    found = min(assessed(route, known).findings, key=lambda one: list(Weight).index(one.weight), default=None)
    return found, found and found.likely_intended[0].new


def test_usage_tells_the_exit_that_geometry_does_not():
    typed = "LENDU UM12 OSDEK SARNO"
    assert first(typed, None)[1] == "RULPO"
    finding, proposed = first(typed, KNOWN)
    assert proposed == "TOVIK"
    assert "TOVIK: 3 known routes leave UM12 there for SARNO, none at OSDEK." in finding.message
    assert "3 known routes leave UM12 there for SARNO" in finding.likely_intended[0].why
    assert ("known routes that have it", 3) in [(fact.name, fact.value) for fact in finding.facts]
    assert ("collection", "known.csv") in [(fact.name, fact.value) for fact in finding.facts]


def test_a_word_that_only_known_routes_tell_is_proposed():
    known = known_routes("LENDU UM12 TOVIK SARNO", "VAL UM12 TOVIK SARNO", "XVAL XVMA: LENDU UM12 TOVIK SARNO")
    typed = "LENDU UM12 UVAGI SARNO"
    assert not [one for one in assessed(typed, None).findings if one.weight is not Weight.NOTE]
    finding, proposed = first(typed, known)
    assert proposed == "TOVIK"
    assert finding.weight is Weight.DOUBTFUL


def test_what_one_known_route_has_is_no_evidence():
    answer = assessed("LENDU UM12 UVAGI SARNO", known_routes("LENDU UM12 TOVIK SARNO"))
    assert not [one for one in answer.findings if one.weight is not Weight.NOTE]


def test_known_routes_without_a_collection_change_nothing():
    typed = "LENDU UM12 OSDEK SARNO"
    assert assessed(typed, KnownRoutes(())) == assessed(typed, None)


def test_known_routes_that_cannot_be_asked_cost_themselves_and_are_said(monkeypatch):
    def fail(*_):
        raise sqlite3.DatabaseError("database disk image is malformed")

    monkeypatch.setattr(KnownRoutes, "find_usage", fail)
    answer = assessed("LENDU UM12 OSDEK SARNO", KNOWN)
    assert answer.route.usage is None
    assert answer.failure == ""
    assert answer.findings == assessed("LENDU UM12 OSDEK SARNO", None).findings
    assert answer.route.own_mistakes == (
        "known routes could not be asked (DatabaseError: database disk image is malformed)",
    )


def test_what_known_routes_say_against_a_word_on_one_side_is_said():
    ends = ("XVOR", "XVMA", "XVDU", "XVKE", "XVSU", "XVQZ")
    of_exit = known_routes(*(f"XVAL {end}: LENDU UM12 TOVIK KEBUL" for end in ends))
    of_airway = known_routes(
        *(f"LENDU UM12 {left_at} KEBUL" for left_at in ("PIKAR", "UVAGI", "KIVAN", "TOVIK", "RULPO"))
    )
    messages = [first("LENDU UM12 OSDEK SARNO", known)[0] for known in (of_exit, of_airway)]
    assert "TOVIK: 6 known routes leave UM12 there, none at OSDEK." in messages[0].message
    assert "Known routes have UM12 5 times and never leave it at OSDEK." in messages[1].message
    assert ("collection", "known.csv") in [(fact.name, fact.value) for fact in messages[1].facts]
