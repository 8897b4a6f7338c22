"""Collections that are kept: opened as they were written, named where they cannot be used, removed by their names."""

import pytest

from routecheck.faults import DataError, UsageError
from routecheck.known import store
from routecheck.known.collection import KnownRow, compile_collection
from routecheck.known.folder import list_files
from routecheck.known.intake import Intake


@pytest.fixture(autouse=True)
def own_store(monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "user"))


def keep(name, *texts):
    intake = Intake(name, [KnownRow(departure="XVAL", destination="XVOR", words=text, text=text) for text in texts])
    store.keep_collection(compile_collection(intake.rows, intake.about, lambda _share: None))


def test_kept_opened_replaced_removed():
    assert store.open_store() is None
    keep("a.csv", "LENDU UM12 TOVIK")
    keep("b ü.csv", "LENDU UM12 RULPO", "LENDU DCT TOVIK")
    keep("a.csv", "LENDU UM12 TOVIK", "LENDU UM12 PIKAR")
    known = store.open_store()
    assert sorted(known.names) == ["a.csv", "b ü.csv"]
    assert known.count_pair("LENDU", "UM12") == 3
    assert known.words_between("LENDU", "TOVIK") == {"UM12": 1, "DCT": 1}
    store.remove_collection("a.csv")
    assert store.open_store().names == ("b ü.csv",)
    with pytest.raises(UsageError, match=r"there are no known routes called a\.csv; there is b ü\.csv"):
        store.remove_collection("a.csv")


@pytest.mark.parametrize(
    "damage", [lambda b: b[:100], lambda b: b"x" * 5000, lambda _b: b"", lambda b: b[:60] + b"\xff" * 8 + b[68:]]
)
def test_a_damaged_collection_is_named_and_can_be_removed(damage):
    keep("a.csv", "LENDU UM12 TOVIK")
    keep("b.csv", "LENDU UM12 TOVIK")
    path = list_files()[0]
    path.write_bytes(damage(path.read_bytes()))
    known = store.open_store()
    assert len(known.collections) == 1
    assert known.unusable[0].startswith(f"the known routes unnamed-{path.stem[:8]} cannot be used: ")
    store.remove_collection(f"unnamed-{path.stem[:8]}")
    assert store.open_store().unusable == ()


def test_a_folder_that_cannot_be_written_is_said(tmp_path):
    (tmp_path / "user").mkdir()
    (tmp_path / "user" / "routecheck").write_text("in the way")
    with pytest.raises(DataError, match="nothing was added"):
        keep("a.csv", "LENDU UM12 TOVIK")
