"""`routecheck proof`: what goes in, what comes out, and the exit code."""

import gzip
import io
import json
import lzma
import pathlib
import sys
import zipfile
from dataclasses import replace

import pytest

from routecheck import pipeline
from routecheck.checks.catalogue import collect
from routecheck.cli import proof
from routecheck.earth import vincenty
from routecheck.model import CAUTION_IN_FULL, Outcome
from routecheck.reading.samples import read_samples

CLEAN = ("--route", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "--departure", "XVAL", "--destination", "XVOR")
CLEAN_TOO = (*CLEAN, "--date", "2026-12-03")
WRONG = ("--route", "LENDU DCT PIKER DCT UVAGI", "--departure", "XVAL", "--destination", "XVOR")


def one_line(text):
    """Words as they come, whatever the line breaks."""
    return " ".join(text.split())


def results(output):
    return [json.loads(line) for line in output.splitlines()]


@pytest.fixture
def demo_records(root):
    return (root / "resources" / "demo" / "demo_region.txt").read_bytes()


# ---- the demo


def test_the_demo_names_its_planted_error_and_carries_the_cautions(command):
    code, out, err = command("proof", "--demo")
    assert (code, err) == (1, "")
    assert "■ 1 Wrong: PIKOR is not on UM12" in out
    assert "likely intended: PIKAR" in out
    assert CAUTION_IN_FULL in one_line(out)
    assert "Not looked at: weather, NOTAM" in one_line(out)
    assert "demo region (cycle 2612, invented, 410 records read, 0 rejected, 410 announced)" in one_line(out)
    assert "Checked 73 % of the route" in out
    assert "≥ " in out
    assert "at least" in out


def test_the_demo_as_json_lines(command):
    code, out, _ = command("proof", "--demo", "--format", "jsonl")
    (result,) = results(out)
    assert code == 1
    assert (result["role"], result["departure"], result["findings"][0]["check"]) == ("entered", "XVAL", "off-airway")


# ---- one route by options


def test_a_route_in_order_is_exit_code_0(command):
    code, out, _ = command("proof", *CLEAN_TOO)
    assert code == 0
    assert "Checked: all of the route." in out
    assert "Wrong:" not in out


def test_every_option_reaches_the_result(command):
    code, out, _ = command(
        "proof", *CLEAN_TOO, "--departure-runway", "09", "--destination-runway", "27", "--speed", "N0430",
        "--level", "F350", "--role", "cleared", "--aircraft-sheet", "Turboprop", "--jobs", "1", "--format", "jsonl",
    )  # fmt: skip
    (result,) = results(out)
    assert code == 0
    assert result["role"] == "cleared"
    assert "above-ceiling" in [finding["check"] for finding in result["findings"]]
    assert not any(f["check"] == "data-not-current" for f in result["findings"])


def test_the_date_decides_whether_the_data_holds(command):
    _, out, _ = command("proof", *CLEAN, "--date", "2027-03-01", "--format", "jsonl")
    assert "data-not-current" in [f["check"] for f in results(out)[0]["findings"]]


def test_the_speed_is_used(command):
    because = []
    for speed in ((), ("--speed", "N0430")):
        _, out, _ = command("proof", *CLEAN_TOO, *speed, "--format", "jsonl")
        because.append([n["because"] for n in results(out)[0]["not_checked"] if n["check"] == "leg-too-short"])
    assert because == [["no speed is filed"], []]


def test_something_wrong_is_exit_code_1(command):
    code, out, _ = command("proof", *WRONG)
    assert code == 1
    assert "PIKER is not in the loaded data" in out


# ---- files


def test_rows_bad_ones_included_stay_in_order(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text(
        "name,departure,destination,route,date,remarks\n"
        "first,XVAL,XVOR,LENDU UM12 TOVIK DCT SARNO,2026-12-03,ignored\n"
        "second,XVAL\n"
        "third,XVAL,XVOR,,2026-12-03,\n"
        "fourth,XVAL,XVOR,LENDU DCT PIKER DCT UVAGI,2026-12-03,\n"
    )
    code, out, _ = command("proof", file, "--format", "jsonl")
    told = [(r["name"], [f["check"] for f in r["findings"] if f["weight"] == "wrong"]) for r in results(out)]
    assert code == 1
    assert told == [
        ("first", []), ("second", ["unread-row"]), ("third", ["unread-row"]), ("fourth", ["unknown-name"]),
    ]  # fmt: skip
    assert [r["totals"]["checked_share"] for r in results(out)][:2] == [1.0, 0.0]


def test_many_routes_as_text_end_with_their_counts(command, tmp_path):
    file = tmp_path / "rows.csv"
    file.write_text("departure,destination,route\nXVAL,XVOR,LENDU DCT PIKER\nXVAL,XVOR,DCT\nXVAL\n")
    code, out, _ = command("proof", file, "--date", "2026-12-03")
    assert code == 1
    assert "3 rows read, 3 routes: 2 with something Wrong, 0 Doubtful without Wrong, 2 not fully checked." in out
    assert CAUTION_IN_FULL in one_line(out)
    assert "■ Wrong: Line 4: only 1 cell, but the header has 3. [unread-row] line 4 XVAL–?" in out


def test_five_hundred_lines_come_in_input_order(command, tmp_path):
    file = tmp_path / "rows.csv"
    rows = [f"route {i},XVAL,XVOR,{['LENDU', 'PIKAR', '☂', 'UM12'][i % 4]}" for i in range(500)]
    file.write_text("name,departure,destination,route\n" + "\n".join(rows), "utf-8")
    _, out, _ = command("proof", file, "--format", "jsonl")
    assert [r["name"] for r in results(out)] == [f"route {i}" for i in range(500)]


def test_every_kind_of_file_in_one_run(command, tmp_path, root):
    text, rows = tmp_path / "a.txt", tmp_path / "b.csv"
    text.write_text("LENDU DCT PIKAR")
    rows.write_text("departure,destination,route\nXVMA,XVOR,MAV DCT SARNO\n")
    code, out, _ = command(
        "proof", text, rows, root / "sample_routes/clean/southern-airway.route.toml", "--departure", "XVAL",
        "--destination", "XVSU", "--format", "jsonl",
    )  # fmt: skip
    told = [(r["departure"], r["destination"]) for r in results(out)]
    assert told == [("XVAL", "XVSU"), ("XVMA", "XVOR"), ("XVAL", "XVOR")], (
        "options fill only what the input leaves open"
    )
    assert code == 0


@pytest.mark.parametrize("folder", ["clean", "planted"])
@pytest.mark.slow
def test_the_samples_as_a_user_checks_them(command, root, folder):
    for name, _ in read_samples(folder):
        code, out, err = command("proof", root / "sample_routes" / name)
        assert err == ""
        assert code in ((0,) if folder == "clean" else (0, 1))
        assert "could not run" not in out.replace("0 could not run", "")


def test_kind_overrides_what_the_content_looks_like(command, tmp_path):
    file = tmp_path / "odd.csv"
    file.write_text("LENDU DCT PIKAR")
    code, out, _ = command("proof", file, "--departure", "XVAL", "--destination", "XVOR", "--format", "jsonl")
    assert (code, [f["check"] for f in results(out)[0]["findings"]][:1]) == (2, ["unread-row"])
    code, out, _ = command("proof", file, "--kind", "text", *CLEAN_TOO[2:], "--format", "jsonl")
    assert (code, results(out)[0]["route"]) == (0, "LENDU DCT PIKAR")


def test_standard_input(command, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(b"LENDU DCT PIKER")))
    code, out, _ = command("proof", "-", "--departure", "XVAL", "--destination", "XVOR")
    assert code == 1
    assert "standard input" in out
    assert "PIKER" in out


@pytest.mark.parametrize("data", [b"", b"\x89PNG\r\n\x1a\n\0\0\0", b"\0" * 500, b"\xff\xfe", b"(FPL-ABC123-IS"])
def test_files_that_are_no_routes_are_exit_code_2_and_told_in_a_sentence(command, tmp_path, data):
    file = tmp_path / "thing"
    file.write_bytes(data)
    code, out, err = command("proof", file)
    assert code == 2
    assert err.startswith(f"routecheck: {file}: ")
    assert len(err.splitlines()) == 1
    assert "unread-row" in out
    assert "Traceback" not in out
    assert "Checked nothing" in out


# ---- what cannot be done


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((), "nothing to check"),
        (("no-such.csv",), "there is no file no-such.csv"),
        (("--navdata", "no-such.txt", "--demo"), "there is no file no-such.txt"),
        (("--no-such-option",), "--no-such-option"),
        (("--demo", "--date", "3 DEC"), "“3 DEC” is no date: write it as 2026-12-03"),
        (("--demo", "--format", "xml"), "xml"),
        (("--demo", "--role", "flown"), "flown"),
        (("--demo", "--jobs", "0"), "“0” is no number of processes"),
        (("--demo", "--jobs", "x"), "“x” is no number"),
        (("--demo", "--only", "dogleg,,off-airway"), "has a comma too many: no name of a check stands beside it"),
        (("--demo", "--only", "dog-leg"), "there is no check called “dog-leg”; did you mean dogleg"),
        (("--demo", "--without", "dogleg,x"), "there is no check called “x”; routecheck explain lists them"),
        (("--demo", "--aircraft-sheet", "Turboprob"), "no Aircraft sheet “Turboprob”; did you mean Turboprop"),
        (("--demo", "--aircraft-sheet", "Balloon"), "there is Piston single, Turboprop"),
        (("--rout", "LENDU"), "--rout"),
        (("--route",), "--route"),
    ],
)
def test_usage_is_one_line_and_exit_code_2(command, arguments, told):
    code, out, err = command("proof", *arguments)
    assert (code, out) == (2, "")
    assert err.startswith("routecheck: ")
    assert told in err
    assert len(err.splitlines()) == 1


def test_a_missing_file_is_said_before_anything_is_printed(command, tmp_path):
    file = tmp_path / "a.txt"
    file.write_text("LENDU DCT PIKER")
    code, out, err = command("proof", file, tmp_path / "missing.txt")
    assert (code, out) == (2, "")
    assert "missing.txt" in err


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "there is nothing in it"),
        (b"junk\n" * 9, "not navigation data"),
        (bytes(range(256)) * 40, "not navigation data"),
        (b"<html>", "web page"),
        (b"PK\x03\x04 no zip", "damaged or cut off"),
    ],
)
def test_navigation_data_that_cannot_be_read_is_exit_code_3_and_one_sentence(command, tmp_path, data, told):
    file = tmp_path / "navdata"
    file.write_bytes(data)
    code, out, err = command("proof", *CLEAN, "--navdata", file)
    assert (code, out) == (3, "")
    assert "navdata" in err
    assert told in err
    assert len(err.splitlines()) == 1


@pytest.mark.parametrize("pack", [lzma.compress, gzip.compress, lambda data: zipped(data)])
def test_navigation_data_that_is_cut_off_is_never_used_in_part(command, tmp_path, demo_records, pack):
    file = tmp_path / "navdata"
    packed = pack(demo_records)
    file.write_bytes(packed[: len(packed) * 2 // 3])
    code, out, err = command("proof", *CLEAN, "--navdata", file)
    assert (code, out) == (3, "")
    assert "damaged or cut off" in err
    assert len(err.splitlines()) == 1


def zipped(data):
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("FAACIFP18", data)
    return packed.getvalue()


@pytest.mark.parametrize(
    ("suffix", "pack"), [("", bytes), (".gz", gzip.compress), (".xz", lzma.compress), (".zip", zipped)]
)
def test_navigation_data_packed_in_every_way(command, tmp_path, demo_records, suffix, pack):
    file = tmp_path / f"region.txt{suffix}"
    file.write_bytes(pack(demo_records))
    code, out, _ = command("proof", *CLEAN_TOO, "--navdata", file, "--format", "jsonl")
    (result,) = results(out)
    assert code == 0
    assert result["data"]["cycle"] == "2612"
    assert result["data"]["data_sources"][0].startswith("region.txt")


def test_with_data_of_its_own_the_demo_region_stays_away_unless_asked_for(command, test_data):
    file = test_data / "faa_cifp_2301_northeast.txt.xz"
    for demo, sources in (((), 1), (("--demo",), 2)):
        _, out, _ = command("proof", *WRONG, "--navdata", file, *demo, "--format", "jsonl")
        assert len(results(out)[-1]["data"]["data_sources"]) == sources


# ---- our own faults


def test_a_check_that_cannot_run_is_exit_code_4_also_beside_something_wrong(command, monkeypatch):
    def broken(route, limit):
        yield from ()
        raise RuntimeError("broken on purpose")

    checks = tuple(replace(c, function=broken) if c.name == "no-length" else c for c in collect())
    monkeypatch.setattr(pipeline, "collect", lambda: checks)
    code, out, _ = command("proof", *WRONG)
    assert code == 4
    assert "Could not run (our mistake): no-length." in one_line(out)
    assert f"1 {Outcome.COULD_NOT_RUN}" in out
    assert "PIKER is not in the loaded data" in out


def test_a_route_that_our_program_fails_on_is_exit_code_4_and_the_others_come_out(command, monkeypatch, tmp_path):
    real = pipeline.resolve

    def broken(parsed, *rest):
        if parsed.route_input.route == "SARNO":
            raise ZeroDivisionError("broken on purpose")
        return real(parsed, *rest)

    monkeypatch.setattr(pipeline, "resolve", broken)
    rows = tmp_path / "rows.csv"
    rows.write_text("departure,destination,route\nXVAL,XVOR,LENDU\nXVAL,XVOR,SARNO\nXVAL,XVOR,RIPAS\n")
    code, out, err = command("proof", rows)
    assert (code, err) == (4, "")
    assert "our program failed on this route (ZeroDivisionError: broken on purpose)" in one_line(out)
    assert "3 routes" in out
    code, out, _ = command("proof", rows, "--format", "jsonl")
    assert code == 4
    assert [result["route"] for result in results(out)] == ["LENDU", "SARNO", "RIPAS"]
    assert [result["outcomes"]["could_not_run"] > 0 for result in results(out)] == [False, True, False]


def test_two_computations_that_differ_are_exit_code_4(command, monkeypatch):
    monkeypatch.setattr(vincenty, "distances_nm", lambda lat, *_: 0.0 * lat)
    code, out, _ = command("proof", *CLEAN_TOO)
    assert code == 4
    assert "two computations of the total differ" in one_line(out)


def test_a_bug_is_said_to_be_ours_and_told_in_the_log(command, monkeypatch):
    def broken(*_, **__):
        raise ZeroDivisionError("found in the log")

    monkeypatch.setattr(proof, "assess_many", broken)
    code, _, err = command("proof", "--demo")
    assert code == 4
    assert "our mistake, not yours" in err
    log = err.strip().removesuffix(".").rpartition(" ")[2]
    assert "found in the log" in pathlib.Path(log).read_text("utf-8")


# ---- what the text does to a terminal


def test_nothing_pasted_commands_the_terminal(command):
    code, out, _ = command("proof", "--route", "LENDU \x1b]0;title\x07 \x1b[31m DCT \u202eRAKIP PIKAR", *CLEAN_TOO[2:])
    assert code == 1
    assert "\x1b" not in out
    assert "\u202e" not in out
    assert all(char.isprintable() or char == "\n" for char in out)


def test_a_route_of_a_megabyte_does_not_flood_the_screen(command):
    _, out, _ = command("proof", "--route", "X" * 1_000_000, *CLEAN_TOO[2:])
    assert len(out) < 20_000
    assert "…" in out


@pytest.mark.parametrize("stated", ["", "I09"])
def test_the_approach_fills_an_entry_that_names_none(command, tmp_path, stated):
    file = tmp_path / "a.route.toml"
    file.write_text(f'route = "LENDU DCT BRUHE"\ndeparture = "XVOR"\ndestination = "XVAL"\napproach = "{stated}"\n')
    _, out, _ = command("proof", file, "--approach", "I27", "--format", "jsonl")
    result = json.loads(out)
    assert ("I27" in {leg["via"] for leg in result["legs"]}) == (stated == "")
    assert ("unknown-procedure" in {finding["check"] for finding in result["findings"]}) == (stated == "I09")


@pytest.mark.parametrize("route", ["", "?", "*", "—", '""', "T", "VFR", "IFR", "N0430F350", "XVAL", ",,,,", "--- DCT"])
def test_what_is_no_route_never_passes_as_a_direct_flight(command, route):
    code, out, _ = command("proof", "--route", route, *CLEAN[2:])
    assert code == 1
    assert "all of the route" not in out
