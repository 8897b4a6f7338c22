"""`routecheck compare`: what differs, exit codes, JSON."""

import json

import pytest

MESSAGE = "(FPL-ABC-IS-B738/M-S/S-XVAL0700-N0430F350 LENDU-XVOR0100-0)"
FILED = 'schema = 1\nrole = "filed"\ndeparture = "XVAL"\ndestination = "XVOR"\nroute = "LENDU DCT PIKAR UM12 TOVIK"\n'


@pytest.fixture
def versions(tmp_path):
    """A function that writes two versions and gives their names."""

    def write(second, first=FILED):
        files = tmp_path / "filed.txt", tmp_path / "cleared.txt"
        for file, text in zip(files, (first, second), strict=True):
            file.write_text(text, encoding="utf-8")
        return [str(file) for file in files]

    return write


def test_a_difference_is_named_and_the_exit_code_is_one(command, versions):
    cleared = FILED.replace("filed", "cleared").replace("PIKAR", "PIKOR")
    code, out, _ = command("compare", *versions(cleared), "--demo")
    assert code == 1
    assert "1 As cleared, PIKOR in place of PIKAR: 154 NM apart." in out
    assert "not for navigation" in out


def test_equal_versions_end_with_zero_and_say_how_much_was_checked(command, versions):
    code, out, _ = command("compare", *versions(FILED), "--demo")
    assert code == 0
    assert out.startswith("No difference in points")
    assert "The second: " in out


def test_json_gives_what_differs(command, versions):
    code, out, _ = command("compare", *versions(FILED.replace(" UM12 TOVIK", "")), "--demo", "--format", "json")
    found = json.loads(out)
    assert code == 1
    assert found["same"] is False
    assert [(one["kind"], one["first"]) for one in found["differences"]] == [
        ("missing point", ["TOVIK"]),
        ("way between points", ["UM12"]),
    ]


@pytest.mark.parametrize(
    ("second", "said"),
    [
        ("", "cannot be used: "),
        (f"{MESSAGE} {MESSAGE}", "holds 2"),
        ('schema = 99\nroute = "LENDU"\n', "cannot be used: "),
    ],
)
def test_what_is_not_one_route_is_refused(command, versions, second, said):
    code, _, complaint = command("compare", *versions(second), "--demo")
    assert code == 2
    assert said in complaint
