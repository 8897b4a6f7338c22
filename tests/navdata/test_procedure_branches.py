"""Coded legs decoded: places by key, branches by route type, every procedure of real data.

Columns: ARINC 424-18, as found in the U.S. FAA CIFP, cycle 2301 (public domain).
"""

from collections import Counter

import pytest
from arinc_records import coded, read
from coded_ground import GROUND, database, decoded, only_leg
from hypothesis import given, settings
from hypothesis import strategies as st
from test_any_bytes import real_records

from routecheck.model import LegType, Part, PlaceKind
from routecheck.navdata.database import NavDatabase
from routecheck.settings import DataError

# Places


@pytest.mark.parametrize(
    ("key", "kind", "lat"),
    [
        ("KOLOZ XX PC", PlaceKind.TERMINAL_FIX, -31.1),  # the one of this airport, not the other's
        ("ZAQIP XX EA", PlaceKind.FIX, -31.0),
        ("ZQV XX D ", PlaceKind.VOR_DME, -31.0),
        ("ZB XX PN", PlaceKind.NDB, -31.2),
        ("RW09 XX PG", PlaceKind.RUNWAY, -31.0),
        ("XVZZ XX PA", PlaceKind.AIRPORT, -31.0),
    ],
)
def test_a_fix_is_found_by_its_whole_key(key: str, kind: PlaceKind, lat: float) -> None:
    place = only_leg(fix=key).fix
    assert place is not None
    assert (place.ident, place.kind, place.lat) == (key.split()[0], kind, pytest.approx(lat))


@pytest.mark.parametrize("key", ["KOLOZ YY PC", "ZAQIP XX PC", "NOSUQ XX EA", "RW27 XX PG", "ZQV XX DB", "IZZ XX PI"])
def test_what_is_not_under_that_key_has_no_place(key: str) -> None:
    leg = only_leg(fix=key)
    assert leg.fix_ident == key.split()[0]
    assert (leg.fix is None) == (key != "IZZ XX PI")


def test_a_localizer_with_its_alignment_and_the_dme_beside_it() -> None:
    aid = only_leg(navaid="IZZ XX PI").navaid
    assert aid is not None
    assert (aid.kind, aid.declination_deg, aid.lon) == (PlaceKind.LOCALIZER, -5.0, pytest.approx(12.07))
    dme = only_leg(navaid="IZZ XX D ").navaid
    assert dme is not None
    assert (dme.kind, dme.lon) == (PlaceKind.DME, pytest.approx(12.05))
    assert not database().places("IZZ")  # neither is a point of a route


def test_a_record_without_blanks_at_its_end_says_the_same() -> None:
    """The section of a navaid ends with a blank, the last column of many records."""
    line = coded("XVZZ", "D", "ZAQIP1", "4", "RW09", 10, "FM", fix="KOLOZ XX PC", navaid="ZQV XX D ", course="0910")
    short = line[:128].rstrip()
    assert short.endswith("D")
    assert decoded(short) == decoded(line)


# Branches


@pytest.mark.parametrize(
    ("letter", "route_types", "part"),
    [
        ("D", "14T", Part.RUNWAY),
        ("D", "25", Part.COMMON),
        ("D", "36V", Part.TRANSITION),
        ("E", "14", Part.TRANSITION),
        ("E", "25", Part.COMMON),
        ("E", "36", Part.RUNWAY),
        ("F", "A", Part.TRANSITION),
        ("F", "BDHILNPQRSUVX", Part.COMMON),
    ],
)
def test_parts_by_route_type(letter: str, route_types: str, part: Part) -> None:
    """Route types of ARINC 424-18 that are found in the U.S. FAA CIFP, cycle 2301."""
    kind = {"D": "SID", "E": "STAR", "F": "APPROACH"}[letter]
    for route_type in route_types:
        found = decoded(coded("XVZZ", letter, "ZAQIP1", route_type, "RWF", 10, "IF"), kind=kind)
        assert [(branch.part, branch.ident) for branch in found.branches] == [(part, "RWF")]


@pytest.mark.parametrize(
    ("branch", "part"), [("RW09", Part.RUNWAY), ("ALL", Part.COMMON), ("", Part.COMMON), ("RWF", Part.TRANSITION)]
)
def test_an_unknown_route_type_is_sorted_by_what_it_is_for(branch: str, part: Part) -> None:
    found = decoded(coded("XVZZ", "D", "ZAQIP1", "9", branch, 10, "IF"))
    assert found.branches[0].part is part


def test_branches_keep_their_order_and_legs_their_sequence() -> None:
    found = decoded(
        coded("XVZZ", "D", "ZAQIP1", "5", "ALL", 20, "TF", fix="ZAQIP XX EA"),
        coded("XVZZ", "D", "ZAQIP1", "4", "RW09", 20, "DF", fix="KOLOZ XX PC"),
        coded("XVZZ", "D", "ZAQIP1", "4", "RW09", 10, "VA"),
        coded("XVZZ", "D", "ZAQIP1", "5", "ALL", 10, "IF", fix="KOLOZ XX PC"),
        coded("XVZZ", "D", "ZAQIP1", "6", "ZQV", 10, "IF", fix="ZAQIP XX EA"),
    )
    assert [branch.ident for branch in found.branches] == ["ALL", "RW09", "ZQV"]
    assert [[leg.type for leg in branch.legs] for branch in found.branches] == [["IF", "TF"], ["VA", "DF"], ["IF"]]
    assert [len(part) for part in (found.runways, found.common, found.transitions)] == [1, 1, 1]
    assert found.field is not None
    assert (found.field.ident, found.kind, found.name) == ("XVZZ", "SID", "ZAQIP1")


@pytest.mark.parametrize(
    ("letter", "route_type", "ident", "runway"),
    [
        ("D", "4", "RW09", "09"),
        ("D", "4", "RW27R", "27R"),
        ("E", "6", "RW08B", "08B"),
        ("E", "6", "ALL", ""),
        ("D", "5", "RW09", "09"),
        ("D", "5", "", ""),
        ("E", "4", "RWF", ""),
        ("D", "4", "NORTH", "NORTH"),
    ],
)
def test_which_runways_a_branch_is_for(letter: str, route_type: str, ident: str, runway: str) -> None:
    kind = {"D": "SID", "E": "STAR"}[letter]
    (branch,) = decoded(coded("XVZZ", letter, "ZAQIP1", route_type, ident, 10, "IF"), kind=kind).branches
    assert (branch.ident, branch.runway) == (ident, runway)


def test_all_from_the_first_leg_of_the_missed_approach_on_is_missed() -> None:
    found = decoded(
        coded("XVZZ", "F", "I09", "I", "", 10, "IF", fix="KOLOZ XX PC"),
        coded("XVZZ", "F", "I09", "I", "", 20, "CF", fix="RW09 XX PG", description="GY M"),
        coded("XVZZ", "F", "I09", "I", "", 30, "CA", description="  M "),
        coded("XVZZ", "F", "I09", "I", "", 40, "DF", fix="ZAQIP XX EA"),
        kind="APPROACH",
        name="I09",
    )
    assert [leg.missed for leg in found.branches[0].legs] == [False, False, True, True]


def test_continuations_are_no_legs() -> None:
    found = decoded(
        coded("XVZZ", "F", "I09", "I", "", 10, "IF", continuation="1"),
        coded("XVZZ", "F", "I09", "I", "", 10, "  ", continuation="2"),
        kind="APPROACH",
        name="I09",
    )
    assert len(found.branches[0].legs) == 1


def test_names_that_begin_alike_are_kept_apart() -> None:
    data = database(coded("XVZZ", "D", "ZAQIP1", "5", "", 10, "IF"), coded("XVZZ", "D", "ZAQIP", "5", "", 10, "TF"))
    for name, leg_type in (("ZAQIP1", "IF"), ("ZAQIP", "TF")):
        found = data.procedure("XVZZ", "SID", name)
        assert found is not None
        assert [leg.type for branch in found.branches for leg in branch.legs] == [leg_type]


@pytest.mark.parametrize(
    ("of", "kind", "name"),
    [
        ("XVZZ", "SID", "NOSUQ1"),
        ("XVZZ", "STAR", "ZAQIP1"),
        ("XVYY", "SID", "ZAQIP1"),
        ("XVZZ", "SID", "ZAQIP1X"),
        ("", "SID", ""),
    ],
)
def test_none_where_there_is_none(of: str, kind: str, name: str) -> None:
    assert database(coded("XVZZ", "D", "ZAQIP1", "5", "ALL", 10, "IF")).procedure(of, kind, name) is None


def test_approaches_have_names_of_their_own_and_are_no_words_of_a_route() -> None:
    data = database(coded("XVZZ", "F", "VDM-A", "D", "", 10, "IF"), coded("XVZZ", "F", "I09", "I", "", 10, "IF"))
    assert data.procedure_names("XVZZ", "APPROACH") == ("I09", "VDM-A")
    assert data.procedure_names("XVYY", "APPROACH") == ()
    assert data.procedure_kinds("XVZZ", "I09") == frozenset()
    assert data.procedure_airports("I09") == frozenset()


def test_an_approach_without_a_name_is_told() -> None:
    tables = read([*GROUND, coded("XVZZ", "F", "", "I", "", 10, "IF")], "test")
    assert [reason for _, reason in tables.source.rejected] == ["PF record: no approach"]


def test_superseded_legs_do_not_come_back_out_of_an_older_file() -> None:
    old = read(
        ["HDR04 VOLUME 2601", *GROUND[2:], *(coded("XVZZ", "D", n, "5", "", 10, "IF") for n in ("ZAQIP1", "KOLOZ1")),
         coded("XVZZ", "F", "I09", "I", "", 10, "IF")],
        "old",
    )  # fmt: skip
    new = read(["HDR04 VOLUME 2602", coded("XVZZ", "D", "ZAQIP1", "5", "", 10, "TF")], "new")
    data = NavDatabase.from_tables(new, old)
    found = data.procedure("XVZZ", "SID", "ZAQIP1")
    assert found is not None
    assert [leg.type for leg in found.branches[0].legs] == ["TF"]
    assert data.procedure("XVZZ", "SID", "KOLOZ1") is None
    assert data.procedure("XVZZ", "APPROACH", "I09") is None, "an airport's procedures are all of one file"


# Real data


def test_every_procedure_of_the_excerpt_is_decoded_and_its_fixes_are_found_if_they_lie_in_it(
    northeast: NavDatabase,
) -> None:
    """Source of the leg counts: the records of the committed excerpt of the U.S. FAA CIFP, cycle 2301, counted."""
    missing: list[str] = []
    counts: dict[str, Counter[str]] = {kind: Counter() for kind in ("SID", "STAR", "APPROACH")}
    for airport_ident in northeast.records.blocks:
        for kind, count in counts.items():
            for name in northeast.procedure_names(airport_ident, kind):
                found = northeast.procedure(airport_ident, kind, name)
                assert found is not None
                for leg in (leg for branch in found.branches for leg in branch.legs):
                    assert leg.type is not None
                    missing += [leg.fix_ident] if leg.fix_ident and leg.fix is None else []
                    assert (leg.centre is not None) == (leg.type is LegType.RADIUS_TO_FIX)
                    count[leg.type] += 1
    assert len(set(missing)) == 29  # fixes beyond the edge of the excerpt; none is missing in the whole file
    assert counts["SID"] == {
        "TF": 626,
        "DF": 111,
        "IF": 107,
        "VA": 98,
        "VI": 73,
        "CF": 73,
        "VM": 48,
        "FM": 4,
        "VD": 2,
        "CA": 1,
    }
    assert counts["STAR"] == {"TF": 1_352, "IF": 370, "FM": 72, "VM": 63}
    assert counts["APPROACH"] == {
        "TF": 76, "IF": 67, "CF": 54, "HM": 25, "CA": 21, "HF": 16, "RF": 15, "DF": 14, "VI": 9, "PI": 6, "FC": 4,
        "AF": 2,
    }  # fmt: skip


@pytest.mark.real_data
@settings(max_examples=100)
@given(st.data())
def test_real_records_with_a_few_characters_changed_are_decoded_all_the_same(data: st.DataObject) -> None:
    procedures = [line for line in real_records() if line[4:6] == "P " and line[12] in "DEFI"]
    mutated = []
    for line in data.draw(st.lists(st.sampled_from(procedures), min_size=1, max_size=10)):
        letters = list(line)
        for at in data.draw(st.lists(st.integers(13, 117), max_size=6)):
            letters[at] = data.draw(st.sampled_from(" 0179ANSEWKZ-+T\0é²\x80\xff"))
        mutated.append("".join(letters))
    try:
        tables = read(mutated, "any")
    except DataError:
        return
    library_of_them = NavDatabase.from_tables(tables)
    for ident in tables.blocks:
        for kind in ("SID", "STAR", "APPROACH"):
            for name in library_of_them.procedure_names(ident, kind):
                found = library_of_them.procedure(ident, kind, name)
                assert found is not None
                assert all(branch.legs for branch in found.branches)
