"""Hostile navigation data: a bad record is rejected and counted, and costs neither the file nor the program."""

import gzip
import lzma
import os
import pathlib
import time

import pytest
from arinc_records import HEADERS, airport, coded, fix, grid, leg, position, procedure, record, runway, vhf

from routecheck.faults import DataError, UsageError
from routecheck.navdata import readers
from routecheck.navdata.arinc424 import records
from routecheck.navdata.database import NavDatabase, load_navdata

GOOD = [*HEADERS, fix("TOVIZ", 10, 20), fix("ZAQIP", 11, 21), airport("XQAA", 10, 20)]
ENDLESS = "9" * 400


def at(line: str, column: int, text: str) -> str:
    """A line with something else from a column on."""
    return line[: column - 1] + text + line[column - 1 + len(text) :]


HOSTILE_RECORDS = {
    "effective on the last day": "HDR04 VOLUME 2612 EFFECTIVE 31 DEC 9999",
    "effective on the first day": "HDR04 EFFECTIVE 01 JAN 0001",
    "effective on no day": "HDR04 EFFECTIVE 31 FEB 2026",
    "effective in no month": "HDR04 EFFECTIVE 01 ABC 2026",
    "PD in columns 5 and 6": at(procedure("XQAA", "D", "ABCD1", "1"), 5, "PD"),
    "PD there and nothing behind": "SXXXPD",
    "PA in columns 5 and 6": at(airport("XQBB", 1, 1), 5, "PA"),
    "PI in columns 5 and 6": at(record({}), 1, "SXXXPI"),
    "cut within the position": fix("AAAAA", 1, 1)[:40],
    "cut before the ident": fix("BBBBB", 1, 1)[:12],
    "91 degrees north": at(fix("CCCCC", 1, 1), 33, "N91000000"),
    "60 minutes": at(fix("DDDDD", 1, 1), 33, "N01600000"),
    "60 seconds": at(fix("EEEEE", 1, 1), 33, "N01006000"),
    "181 degrees east": at(fix("FFFFF", 1, 1), 42, "E181000000"),
    "letters in the position": at(fix("GGGGG", 1, 1), 33, "N0l000000"),
    "superscripts in the position": at(fix("HHHHH", 1, 1), 33, "N\u00b9\u00b2\u00b300000"),
    "no hemisphere": at(fix("IIIII", 1, 1), 33, "X01000000"),
    "no ident": at(fix("JJJJJ", 1, 1), 14, "     "),
    "small letters": at(fix("KKKKK", 1, 1), 14, "kkkkk"),
    "an ident of control characters": at(fix("LLLLL", 1, 1), 14, "\x1b[31m"),
    "the same fix elsewhere": fix("TOVIZ", -10, -20),
    "the same airport elsewhere": airport("XQAA", -10, -20),
    "no sequence number": at(leg("Z1", 10, "TOVIZ"), 26, "    "),
    "an airway by a fix that is not there": leg("Z2", 10, "NNNNN"),
    "an airway of one record": leg("Z3", 10, "TOVIZ"),
    "a grid from nowhere": grid("N99E999", ["010"] * 30),
    "a runway of no airport": runway("    ", "RW09", 1, 1),
    "a navaid without a place": vhf("QQQ", None),
    "NUL throughout": "\0" * 132,
    "a line of 3 MB": "S" * 3_000_000,
    "a web page": "<html><body>404</body></html>",
    "terminal escapes": "\x1b]0;owned\x07" + "S" * 100,
}


@pytest.mark.parametrize("line", HOSTILE_RECORDS.values(), ids=HOSTILE_RECORDS)
def test_a_record_is_rejected_and_counted_and_the_others_stand(tmp_path: pathlib.Path, line: str) -> None:
    path = tmp_path / "data.txt"
    path.write_bytes("\n".join([*GOOD[:3], line, *GOOD[3:]]).encode("latin-1"))
    begun = time.process_time()
    database = load_navdata([path])
    assert time.process_time() - begun < 1.0
    assert [(place.lat, place.lon) for place in database.places("TOVIZ")] == [(10.0, 20.0)]
    assert database.places("ZAQIP")
    assert database.airport("XQAA") is not None
    (source,) = database.sources
    assert (source.cycle, str(source.effective)) == ("2612", "2026-11-26")
    assert source.count_of("rejected") >= 1
    assert source.rejected
    assert not any("our program" in why for _, why in source.rejected)


HOSTILE_FILES = {
    "nothing": b"",
    "blanks": b" \n" * 10_000,
    "headers only": "\n".join(HEADERS).encode(),
    "one byte": b"S",
    "binary": bytes(range(256)) * 5_000,
    "NUL alone": b"\0" * 1_000_000,
    "a line of 5 MB": b"SXXXEA" + b"A" * 5_000_000,
    "nothing, packed": gzip.compress(b""),
    "a packing cut off": lzma.compress("\n".join(GOOD).encode() * 100)[:-40],
    "a packing altered": gzip.compress("\n".join(GOOD).encode())[:-8] + b"\0" * 8,
    "no zip behind its mark": b"PK\x03\x04" + b"\0" * 100,
    "a table of routes": b"departure,destination,route\nXVAL,XVOR,LENDU\n" * 1_000,
    "records cut everywhere": "\n".join(line[:20] for line in GOOD[2:]).encode(),
}


@pytest.mark.parametrize("content", HOSTILE_FILES.values(), ids=HOSTILE_FILES)
def test_a_file_of_no_use_is_refused_in_a_sentence(tmp_path: pathlib.Path, content: bytes) -> None:
    path = tmp_path / "data.txt"
    path.write_bytes(content)
    begun = time.process_time()
    with pytest.raises(DataError) as refused:
        readers.read_file(path)
    assert time.process_time() - begun < 2.0
    assert refused.value.why
    assert "our program" not in refused.value.why


def test_what_raises_in_one_record_costs_that_record(monkeypatch: pytest.MonkeyPatch) -> None:
    real = records.parse_name

    def raising(text: str) -> str:
        if text.strip() == "BAD":
            raise ZeroDivisionError("planted")
        return real(text)

    monkeypatch.setattr(records, "parse_name", raising)
    tables = readers.read_text("\n".join([*GOOD, fix("MMMMM", 2, 2, name="BAD")]), "test")
    assert NavDatabase.from_tables(tables).places("TOVIZ")
    assert tables.source.count_of("rejected") == 1
    assert tables.source.rejected[0][1] == "EA record: our program failed on it (ZeroDivisionError: planted)"


@pytest.mark.parametrize("special", ["pipe", "folder", "device", "link to a pipe"])
def test_what_is_no_file_is_refused_at_once(tmp_path: pathlib.Path, special: str) -> None:
    path = tmp_path / "data.txt"
    if special == "folder":
        path.mkdir()
    elif special == "device":
        path = pathlib.Path(os.devnull)
    else:
        os.mkfifo(tmp_path / "pipe")
        path = tmp_path / "pipe"
        if special == "link to a pipe":
            (tmp_path / "link").symlink_to(path)
            path = tmp_path / "link"
    with pytest.raises(DataError, match="it is no file but a"):
        load_navdata([path])


def test_a_file_that_is_missing(tmp_path: pathlib.Path) -> None:
    with pytest.raises(UsageError, match="there is no such file"):
        load_navdata([tmp_path / "nowhere"])


def test_coded_legs_of_nonsense_are_no_mistake_of_ours(tmp_path: pathlib.Path) -> None:
    lines = [
        coded("XQAA", "D", "ABCD1", "2", "RW09", number, kind, fix="TOVIZ XX EA", course="9999", first="UNLTD")
        for number, kind in enumerate(("IF", "ZZ", "RF", "AF", "CI", "HM", "  "), 10)
    ]
    database = NavDatabase.from_tables(readers.read_text("\n".join([*GOOD, *lines]), "test"))
    assert database.procedure("XQAA", "SID", "ABCD1") is not None


def test_positions_at_the_very_edges_are_taken() -> None:
    tables = readers.read_text("\n".join([*GOOD, at(fix("NNNNN", 1, 1), 33, position(90, 180))]), "test")
    assert tables.source.count_of("rejected") == 0
