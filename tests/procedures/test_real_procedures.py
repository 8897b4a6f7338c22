"""Every procedure of the committed excerpt comes to a path, and its coded figures are the computed ones.

The whole-country file: tests/bench/test_bench_procedures.py. Data: U.S. FAA CIFP, cycle 2301 (public domain).
"""

import functools

import pytest
from coded_figures import Figure, beyond, figures, procedures, share

from routecheck.model import NoSuchRunway
from routecheck.navdata.database import NavDatabase
from routecheck.procedures.flown_procedure import fly_procedure, trace_procedure


@functools.cache
def compared(database: NavDatabase) -> list[Figure]:
    return figures(database)


def test_every_combination_comes_to_a_path(northeast: NavDatabase) -> None:
    """Every runway branch with every transition; the excerpt lacks some fixes beyond its edge, so joins by ident."""
    combinations = 0
    for procedure in procedures(northeast):
        ends = [part.legs[-1 if procedure.kind == "SID" else 0].fix_ident for part in procedure.transitions] or [None]
        marks = [part.ident for part in procedure.runways] or [None]
        for join in ends:
            for mark in marks:
                found = trace_procedure(procedure, mark and mark.replace("B", "L"), join)
                assert len(found.legs) == max(len(found.points) - 1, 0)
                assert found.joined == (join is not None)
                assert found.faults == ()
                assert all(bool(one.gap) == (one.distance_nm is None) for one in found.legs)
                combinations += 1
    assert combinations > 800


@pytest.mark.parametrize(
    ("what", "number", "least"),
    [
        ("TF course", 43, 0.81),  # the whole file: 98.9 %; here eight legs of two old departures of KBWI
        ("CF course", 40, 0.95),
        ("CF distance", 40, 1.0),
        ("RF radius", 15, 1.0),
        ("RF length", 15, 1.0),
        ("AF radius", 2, 1.0),
        ("AF radial", 2, 1.0),
    ],
)
def test_coded_figures_are_the_computed_ones(northeast: NavDatabase, what: str, number: int, least: float) -> None:
    assert share(compared(northeast), what) == (number, pytest.approx(least, abs=0.005))


def test_whose_figures_are_off(northeast: NavDatabase) -> None:
    assert beyond(compared(northeast), "TF course", 0.5) == {"KBWI PALEO3": 2.1, "KBWI SWANN3": 1.5}
    assert set(beyond(compared(northeast), "TF distance", 0.1)) == {"KBWI PALEO3", "KBWI SWANN3", "KLGA JUTES3"}
    assert beyond(compared(northeast), "CF course", 0.5) == {"KBDL I24": 0.5, "KBDL L24": 0.5}


def test_a_departure_of_new_york(northeast: NavDatabase) -> None:
    """Source: U.S. FAA CIFP cycle 2301, KJFK, SID DEEZZ5, runway 31L, transition CANDR."""
    join = northeast.places("CANDR")[0]
    found = fly_procedure(northeast, "KJFK", "SID", "DEEZZ5", "31L", join)
    assert [p.name for p in found.points] == ["RW31L", "SKORR", "CESID", "YNKEE", "DEEZZ", "HEERO", "KURNL", "CANDR"]
    assert [bool(one.gap) for one in found.legs] == [True, False, False, True, False, False, False]
    assert found.legs[0].gap.endswith("heading 314°M to the next leg, then course 237°M to SKORR")
    assert found.legs[3].gap.endswith("heading 172°M for vectors, then direct to DEEZZ")
    assert [p.fly_over for p in found.points] == [False] * 3 + [True] + [False] * 4
    cesid = found.points[2].window
    assert cesid is not None
    assert (cesid.low_ft, cesid.high_ft) == (2_500.0, None)
    assert (found.runway, found.joined, found.faults) == ("31L", True, ())


def test_both_parallels_of_new_york_share_a_branch(northeast: NavDatabase) -> None:
    left, right = (fly_procedure(northeast, "KJFK", "SID", "DEEZZ5", mark) for mark in ("22L", "22R"))
    assert left.legs == right.legs
    assert (left.runway, right.runway) == ("22L", "22R")
    assert NoSuchRunway() in fly_procedure(northeast, "KJFK", "SID", "DEEZZ5", "09").faults
