"""Every SID, STAR and approach of the whole-country file: none crashes, all join, figures as coded, and what it costs.

The shares were measured on the same data by another program: U.S. FAA CIFP, cycle 2301 (public domain).
Run with: pytest -m bench tests/bench/test_bench_procedures.py -s
"""

import re
import sys
import time
from collections import Counter
from collections.abc import Iterator

import pytest
from coded_figures import LIMITS, Figure, beyond, figures, procedures, share

from routecheck.model import CodedProcedure, Part, ProcedurePath
from routecheck.navdata.database import NavDatabase
from routecheck.procedures.flown_procedure import trace_procedure

pytestmark = pytest.mark.bench

TF_COURSE_OFF = {
    "0I2 R27": 3.3, "51J R19": 4.0, "KBZN HIA5": 5.3, "KKNB KACIR2": 4.0, "KLWS POTOR2": 5.0, "KMFR BRUTE7": 3.1,
    "KOMK P35": 3.1, "KPVU PROVO4": 4.0, "KSAF TAFOY2": 5.2, "KYKM GROMO4": 5.2, "KYKM WENAS7": 5.2, "KYKM YKM7": 5.0,
    "PAUT RNV-A": 6.1,
}  # fmt: skip
CF_COURSE_OFF = {
    "12V VOR-A": 4.6, "5W4 VOR-A": 17.3, "KATW I03": 3.9, "KATW L03": 3.9, "KBLH VDM-A": 5.0, "KBOS I04R": 3.4,
    "KBOS L04R": 3.4, "KBPT S12": 5.6, "KCHA I20": 3.3, "KCLM I08": 6.5, "KCLM L08": 6.5, "KDTA D17": 38.3,
    "KGON I05": 3.5, "KGON L05": 3.5, "KGSP I04": 3.8, "KGSP I22": 3.9, "KGSP L04": 3.8, "KGSP L22": 3.9,
    "KMCO I17R": 5.1, "KMCO L17R": 5.1, "KMEM I27": 9.3, "KMEM L27": 9.3, "KMKV VOR-A": 19.5, "KOAK SKYL1": 6.6,
    "KPKB S21": 3.8, "KSTL I12R": 7.1, "KSTL L12R": 7.1, "KVGT I12L": 20.0, "KVGT L12L": 20.0, "KVGT NOTWN5": 7.0,
    "KVNY VOR-B": 3.0, "PAWG LDA-C": 8.4, "PAWG LDA-D": 8.4, "PHNL OPIHI3": 14.9,
}  # fmt: skip
"""Procedures with a course more than 3 degrees off, and by how much: the data's own, not ours."""


@pytest.fixture(scope="module")
def say(request: pytest.FixtureRequest) -> Iterator[list[str]]:
    """Takes the rows of the table, which is printed when all is measured."""
    rows: list[str] = []
    yield rows
    with request.config.pluginmanager.getplugin("capturemanager").global_and_fixture_disabled():
        sys.stdout.write("\nprocedures, whole-country file\n  " + "\n  ".join(rows) + "\n")


@pytest.fixture(scope="module")
def compared(country: NavDatabase) -> list[Figure]:
    return figures(country)


@pytest.fixture(scope="module")
def everything(country: NavDatabase) -> list[CodedProcedure]:
    return list(procedures(country))


def ways(procedure: CodedProcedure) -> Iterator[tuple[str, ProcedurePath]]:
    """Every runway branch with every transition, joined at its outer end."""
    outer = [part.legs[-1 if procedure.kind == "SID" else 0] for part in procedure.transitions]
    marks = [
        part.ident for part in procedure.branches if part.ident.startswith("RW") and part.part is not Part.TRANSITION
    ]
    for mark in marks or [""]:
        for join in [leg.fix for leg in outer] or [None]:
            yield mark, trace_procedure(procedure, mark.replace("B", "L"), join)


def test_every_fix_and_every_leg_type_is_known(everything: list[CodedProcedure], say: list[str]) -> None:
    """With whole keys every fix reference in the file resolves."""
    legs = [leg for procedure in everything for part in procedure.branches for leg in part.legs]
    assert [leg.fix_ident for leg in legs if leg.fix_ident and leg.fix is None] == []
    assert all(leg.type is not None for leg in legs)
    lost = Counter(leg.navaid_ident for leg in legs if leg.navaid_ident and leg.navaid is None)
    assert lost == {"TUS": 1, "SN": 1, "VYI": 1}  # their records leave the navaid's section blank
    kinds = Counter(procedure.kind for procedure in everything)
    assert kinds == {"SID": 2_134, "STAR": 1_817, "APPROACH": 10_330}
    say.append(f"{len(everything):,} procedures with {len(legs):,} legs decoded, every fix found")


def test_every_combination_joins(everything: list[CodedProcedure], say: list[str]) -> None:
    """Every SID and STAR combination joins (STAR: 9,378, as another program counted them)."""
    start = time.perf_counter()
    combinations: Counter[str] = Counter()
    for procedure in everything:
        for mark, found in ways(procedure):
            combinations[procedure.kind] += 1
            assert found.faults == (), (procedure.airport, procedure.name, mark)
            assert found.joined or not procedure.transitions
            assert len(found.legs) == max(len(found.points) - 1, 0)
            assert all(bool(one.gap) == (one.distance_nm is None) for one in found.legs)
    took = time.perf_counter() - start
    assert combinations["STAR"] == 9_378
    number = combinations.total()
    say.append(f"{number:,} combinations of branches expanded and joined, {took / number * 1e3:.2f} ms each")


def test_inside_a_path_only_what_is_not_fixed_is_a_gap(everything: list[CodedProcedure], say: list[str]) -> None:
    """Causes of gaps between two fixes, each stretch counted once."""
    seen = {
        (procedure.kind, procedure.airport, procedure.name, start.name, end.name, one.gap)
        for procedure in everything
        for _, found in ways(procedure)
        for start, end, one in zip(found.points, found.points[1:], found.legs, strict=False)
        if one.gap
    }
    causes = Counter(re.sub(r"[A-Z\d][\dA-Z+.]+", "X", gap.split(":")[0]) for *_, gap in seen)
    for cause, number in causes.most_common():
        say.append(f"{number:>6,} gaps: {cause}")
    assert causes["not fixed on the map"] > 300
    others = causes.total() - causes["not fixed on the map"]
    assert others < 35  # branches that do not meet, courses from elsewhere: the data's own


@pytest.mark.parametrize(
    ("what", "least"),
    [
        ("TF course", 0.989),
        ("TF distance", 0.996),
        ("CF course", 0.955),
        ("CF distance", 0.988),
        ("RF radius", 1.0),
        ("RF length", 0.997),
        ("AF radius", 1.0),
        ("AF radius at its start", 0.993),
        ("AF radial", 0.996),
    ],
)
def test_coded_figures_are_the_computed_ones(compared: list[Figure], what: str, least: float, say: list[str]) -> None:
    number, within = share(compared, what)
    say.append(f"{what:<24}{number:>8,}{within:>10.2%} within {LIMITS[what]}")
    assert number > 1_000
    assert within >= least


def test_whose_figures_are_off(compared: list[Figure]) -> None:
    assert beyond(compared, "TF course", 3.0) == TF_COURSE_OFF
    assert beyond(compared, "CF course", 3.0) == CF_COURSE_OFF
    assert beyond(compared, "RF length", 0.1) == {"KPBI H28RZ": 0.1, "KRIL H08-Z": 0.3, "KYKM H27-Y": 5.0}
    assert set(beyond(compared, "AF radius at its start", 0.1)) == {
        "KACY S31", "KMDD S25", "KMFR GNATS7", "KMPV I17", "KMPV L17", "KRDD KREST3", "KRVS VDM-A", "KSWO D35"
    }  # fmt: skip
    assert beyond(compared, "AF radial", 0.5) == {"KAMA I04": 0.6, "KAMA L04": 0.6, "PAYA B29": 1.1}
    assert beyond(compared, "TF distance", 0.5) == {
        "KBBG R32": 2.0, "KBWI PALEO3": 0.7, "KJZI KIAWA2": 1.0, "PHNL KEAHI3": 0.6
    }  # fmt: skip
    assert beyond(compared, "CF distance", 0.5) == {"KHRL B35L": 0.5, "KWDR I31": 0.5}
