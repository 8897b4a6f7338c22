"""What the tests of the store share: a store of their own, one with a file in it, the excerpt. No tests here."""

import pathlib

import pytest
from arinc_records import fix
from store_files import OLD, files, written

from routecheck.navdata import store


@pytest.fixture
def own_store(tmp_path: pathlib.Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The store lies in a folder of this test."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "user"))


@pytest.fixture
def excerpt(test_data: pathlib.Path) -> pathlib.Path:
    return test_data / "faa_cifp_2301_northeast.txt.xz"


@pytest.fixture
def before(own_store: None, tmp_path: pathlib.Path) -> dict[str, bytes]:
    """A store with one small file in it, and what lies in its folder."""
    store.add_file(written(tmp_path, "old.txt", fix("ZAQIP", 1, 1), header=OLD))
    return files()


@pytest.fixture
def region(root: pathlib.Path) -> pathlib.Path:
    """The demo region as a file: records of every kind, a tenth of the excerpt."""
    return root / "resources" / "demo" / "demo_region.txt"
