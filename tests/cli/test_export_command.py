"""`routecheck export`: every suffix, and what is refused."""

import pytest

TEXT = "LENDU DCT PIKAR UM12 TOVIK"
FILED = f'schema = 1\ndeparture = "XVAL"\ndestination = "XVOR"\nroute = "{TEXT}"\n'


@pytest.fixture
def filed(tmp_path):
    """A route file."""
    path = tmp_path / "filed.route.toml"
    path.write_text(FILED, encoding="utf-8")
    return path


@pytest.mark.parametrize(("suffix", "begins"), [(".gpx", b"<?xml"), (".geojson", b"{"), (".csv", b"from,")])
def test_the_suffix_says_what_is_written(command, filed, tmp_path, suffix, begins):
    written_as(command, filed, tmp_path, suffix, begins)


@pytest.mark.slow
@pytest.mark.parametrize(("suffix", "begins"), [(".PNG", b"\x89PNG"), (".svg", b"<?xml")])
def test_the_picture_is_written_without_a_window(qapp, command, filed, tmp_path, suffix, begins):
    written_as(command, filed, tmp_path, suffix, begins)


def written_as(command, filed, tmp_path, suffix, begins):
    """Export to a file and look at how it begins."""
    target = tmp_path / f"out{suffix}"
    code, out, _ = command("export", filed, "-o", target, "--demo")
    assert code == 0
    assert out.startswith(f"out{suffix} is written. ")
    assert target.read_bytes().startswith(begins)


@pytest.mark.parametrize(
    ("target", "said"),
    [("out.gpz", "“.gpz” is none of"), ("out", "“out” is none of"), ("nowhere/out.gpx", "cannot be written")],
)
def test_what_cannot_be_written_is_said(command, filed, tmp_path, target, said):
    code, _, complaint = command("export", filed, "-o", tmp_path / target, "--demo")
    assert code == 2
    assert said in complaint
