"""What lies in the store: files written to be added, the library opened, names and contents. No tests here."""

import pathlib

import pytest
from arinc_records import HEADERS

from routecheck.navdata import store
from routecheck.navdata.database import NavDatabase

OLD, NEW = "HDR04 VOLUME 2601", "HDR04 VOLUME 2602"


def written(folder: pathlib.Path, name: str, *lines: str, header: str = HEADERS[1]) -> pathlib.Path:
    path = folder / name
    path.parent.mkdir(exist_ok=True)
    path.write_text("\n".join([header, *lines]), "latin-1")
    return path


def opened() -> NavDatabase:
    database = store.open_store()
    assert database is not None
    return database


def names() -> list[str]:
    return [file.name for file in store.stored_files()]


def idents() -> list[str]:
    return sorted(opened().names())


def files() -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(store.folder().iterdir())}


def the_one(suffix: str) -> pathlib.Path:
    (path,) = store.folder().glob(f"*{suffix}")
    return path


def opened_without_compiling() -> NavDatabase:
    def never(*_args: object) -> bytes:
        pytest.fail("compiled anew")

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(store, "compile_image", never)
        return opened()
