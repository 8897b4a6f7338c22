"""Records of a data source are read, rejected or missing: each shows in its counts and in the data line."""

import pytest

from routecheck.navdata.database import load_navdata
from routecheck.presentation.data_sources import describe_source, describe_sources

HEADERS = 5
WHOLE = 415


@pytest.fixture
def lines(root):
    return (root / "resources" / "demo" / "demo_region.txt").read_text("latin-1").splitlines(keepends=True)


@pytest.fixture
def source_of(tmp_path):
    def load(text):
        file = tmp_path / "data.txt"
        file.write_text("".join(text), "latin-1")
        return load_navdata([file]).sources[0]

    return load


def test_a_whole_source_has_what_it_announces(lines, source_of):
    source = source_of(lines)
    assert (source.records, source.announced, source.missing) == (WHOLE - HEADERS, WHOLE - HEADERS, 0)
    assert describe_sources([source]).endswith("(cycle 2612, invented, 410 records read, 0 rejected, 410 announced).")


def test_a_byte_order_mark_costs_no_header(lines, source_of):
    marked = source_of(["ï»¿", *lines])
    assert (marked.records, marked.announced, marked.rejected) == (WHOLE - HEADERS, WHOLE - HEADERS, ())


def test_a_dropped_record_is_missing(lines, source_of):
    for at in (HEADERS, 100, WHOLE - 1):
        source = source_of([*lines[:at], *lines[at + 1 :]])
        assert source.missing == 1 + HEADERS  # its header counts itself, as nobody can tell any more
        assert "415 announced: 6 records are missing" in describe_sources([source])


def test_a_file_that_is_cut_is_said(lines, source_of):
    source = source_of("".join(lines)[: int(len("".join(lines)) * 0.6)])
    assert source.missing > 150
    assert "records are missing" in describe_sources([source])
    assert "records are missing" in describe_source(source, source.effective, ()).announced_line


def test_a_rejected_record_is_counted_apart(lines, source_of):
    broken = [line[:32] + "?" * 9 + line[41:] if n in (20, 40) else line for n, line in enumerate(lines)]
    source = source_of(broken)
    rejected = source.count_of("rejected")  # airways by way of them too
    assert (rejected >= 2, source.missing) == (True, 0)
    assert f"{410 - rejected} records read, {rejected} rejected, 410 announced)" in describe_sources([source])


def test_a_record_twice_is_one_more_than_announced(lines, source_of):
    source = source_of([*lines, *lines[-7:]])
    assert source.missing < 0
    assert "more than that" in describe_sources([source])


@pytest.mark.parametrize("number", ["       ", "000X415", "-000415", "００００４１５"])
def test_a_header_that_does_not_say_announces_nothing(lines, source_of, number):
    first = lines[0][:28] + number.encode("latin-1", "replace").decode("latin-1")[:7] + lines[0][35:]
    source = source_of([first, *lines[1:]])
    assert source.announced is None
    assert "announced" not in describe_sources([source])
