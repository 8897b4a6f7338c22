"""Files packed in every way, and files that are no navigation data: one clear sentence each."""

import gzip
import io
import lzma
import pathlib
import zipfile
from collections.abc import Callable

import pytest
from arinc_records import HEADERS, fix

from routecheck.navdata import archives
from routecheck.navdata.database import load_navdata
from routecheck.settings import DataError, UsageError

RECORDS = [*HEADERS, fix("ZAQIP", -31.5, 12.25), fix("TOVIZ", -32.0, 12.5)]
TEXT = "\n".join(RECORDS).encode("latin-1") + b"\n"

FORMS = "ARINC 424 records or FAA designated points (CSV)"


def zipped(**members: bytes) -> bytes:
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.mkdir("folder")
        for name, content in members.items():
            archive.writestr(name, content)
    return packed.getvalue()


def written(folder: pathlib.Path, content: bytes, name: str = "data.txt") -> pathlib.Path:
    path = folder / name
    path.write_bytes(content)
    return path


def refusal(path: pathlib.Path) -> DataError:
    with pytest.raises(DataError) as error:
        load_navdata([path])
    assert error.value.file == str(path)
    assert "\n" not in str(error.value)
    return error.value


@pytest.mark.parametrize("pack", [bytes, gzip.compress, lzma.compress, lambda text: zipped(data=text)])
@pytest.mark.parametrize("ending", [b"\n", b"\r\n", b"\r"])
def test_packings_and_line_ends(tmp_path: pathlib.Path, pack: Callable[[bytes], bytes], ending: bytes) -> None:
    database = load_navdata([written(tmp_path, pack(TEXT.replace(b"\n", ending)))])
    assert sorted(database.names()) == ["TOVIZ", "ZAQIP"]
    (source,) = database.sources
    assert (source.name, source.cycle, source.rejected) == ("data.txt", "2612", ())


def test_no_line_end_at_the_end_and_blanks_cut_off(tmp_path: pathlib.Path) -> None:
    lines = b"\n".join(line.rstrip() for line in TEXT.splitlines())
    assert len(load_navdata([written(tmp_path, lines)]).names()) == 2


def test_line_numbers_run_on_over_blocks(tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(archives, "BLOCK", 100)
    path = written(tmp_path, "\n".join([*RECORDS, "junk", fix("PIKOZ", 0, 0), "more junk"]).encode())
    database = load_navdata([path])
    assert sorted(database.names()) == ["PIKOZ", "TOVIZ", "ZAQIP"]
    assert [line for line, _ in database.sources[0].rejected] == [5, 7]


def test_zip_of_several_says_which_member_and_what_was_left_out(tmp_path: pathlib.Path) -> None:
    other = "\n".join([*HEADERS, fix("PIKOZ", 1.0, 1.0)]).encode()
    picture = b"\x89PNG" + b"\0" * (3 << 20)
    path = written(tmp_path, zipped(east=TEXT, readme=b"Read me first.", west=other, chart=picture), "both.zip")
    database = load_navdata([path])
    assert sorted(source.name for source in database.sources) == ["both.zip: east", "both.zip: west"]
    assert sorted(database.names()) == ["PIKOZ", "TOVIZ", "ZAQIP"]
    told = [reason for source in database.sources for _, reason in source.rejected]
    assert told == [
        f"chart in the same file was left out: not navigation data: there are no {FORMS} in it",
        f"readme in the same file was left out: not navigation data: there are no {FORMS} in it",
    ]


def test_progress_grows_to_one_and_may_stop_the_reading(tmp_path: pathlib.Path) -> None:
    paths = [written(tmp_path, TEXT, name) for name in ("a", "b")]
    told: list[float] = []
    load_navdata(paths, progress=told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0
    assert 0.5 in told

    class StopError(Exception):
        pass

    def stop(_share: float) -> None:
        raise StopError

    with pytest.raises(StopError):
        load_navdata(paths, progress=stop)


@pytest.mark.parametrize(
    ("content", "why"),
    [
        (b"", "there is nothing in it"),
        (gzip.compress(b"", mtime=0), "there is nothing in it"),
        (zipped(), "there is nothing in it"),
        (b"\xef\xbb\xbf<html>\n<body>Sign in</body>", "not navigation data"),
        (b"<html>\n<body>Sign in</body>", "this is a web page or XML"),
        (bytes(range(256)) * 40, "not navigation data"),
        (b"\0" * (3 << 20), "not navigation data"),
        (TEXT.decode().encode("utf-16"), "not navigation data"),
        (lzma.compress(TEXT * 50)[:-20], "the file is damaged or cut off"),
        (gzip.compress(TEXT * 50, mtime=0)[:-20], "the file is damaged or cut off"),
        (gzip.compress(TEXT * 50, mtime=0)[:15], "the file is damaged or cut off"),
        (lzma.compress(TEXT)[:8] + b"\xff" * 40, "the file is damaged or cut off"),
        (zipped(data=TEXT)[:-30], "the file is damaged or cut off"),
        (zipped(a=b"hello", b=b"world"), "none of its 2 files can be used; a: not navigation data"),
    ],
)
def test_files_that_are_something_else(tmp_path: pathlib.Path, content: bytes, why: str) -> None:
    assert refusal(written(tmp_path, content)).why.startswith(why)


def test_damaged_member_of_a_zip(tmp_path: pathlib.Path) -> None:
    packed = bytearray(zipped(data=TEXT * 50))
    packed[60:70] = b"\xff" * 10
    assert "damaged or cut off" in refusal(written(tmp_path, bytes(packed))).why


def test_locked_zip(tmp_path: pathlib.Path) -> None:
    packed = bytearray(zipped(data=TEXT))
    for mark in (b"PK\x03\x04", b"PK\x01\x02"):
        flags = packed.rindex(mark) + (6 if mark.endswith(b"\x04") else 8)
        packed[flags] |= 1
    assert refusal(written(tmp_path, bytes(packed))).why == "data in it is locked or packed in an unknown way"


def test_folder_and_missing_file(tmp_path: pathlib.Path) -> None:
    assert refusal(tmp_path).why == "it is no file but a folder"
    for path in (tmp_path / "nowhere.txt", written(tmp_path, b"x") / "below.txt"):
        with pytest.raises(UsageError, match="there is no such file"):
            load_navdata([path])


def test_a_file_that_may_not_be_read(tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_args: object, **_kwargs: object) -> None:
        raise PermissionError

    path = written(tmp_path, TEXT)
    monkeypatch.setattr(pathlib.Path, "stat", refuse)  # as root, taking the rights away refuses nothing
    assert refusal(path).why == "reading this file is not allowed"
