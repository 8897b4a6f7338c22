"""What was changed since the last look, and what each change undoes."""

from dataclasses import replace

from routecheck.model import Load, RouteInput
from routecheck.presentation.changed_since import changes_since

BEFORE = RouteInput("LENDU1 LENDU UM12 TOVIK", "XVAL", "XVOR", departure_runway="09", level="F350")


def test_a_runway_says_what_it_undoes():
    (sentence,) = changes_since(BEFORE, replace(BEFORE, departure_runway="27"))
    undone = "SID branch, first turn, first altitude, take-off figures, engine-failure route"
    assert sentence == f"Departure runway 09 → 27: look again at {undone}."


def test_words_between_what_is_the_same():
    (sentence,) = changes_since(BEFORE, replace(BEFORE, route="LENDU1 LENDU DCT SARNO DCT TOVIK"))
    assert sentence.startswith("Route UM12 → DCT SARNO DCT: look again at distances")


def test_a_weight_undoes_the_take_off_speeds():
    before = replace(BEFORE, load=Load("kg", take_off_weight=63_100.0))
    (sentence,) = changes_since(before, replace(before, load=Load("kg", take_off_weight=64_100.0)))
    assert sentence == "TOW 63,100 → 64,100: look again at take-off speeds, limits, fuel and levels."


def test_nothing_changed_says_nothing():
    assert changes_since(BEFORE, replace(BEFORE, title="another name")) == ()
