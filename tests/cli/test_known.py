"""`routecheck known`: added with what is not among them said, listed, removed."""

import json

import pytest


@pytest.fixture
def rows(tmp_path):
    path = tmp_path / "routes.csv"
    path.write_text("orig,dest,route,remark\nXVAL,XVOR,LENDU UM12 TOVIK,\nXVAL,XVOR,,\nXVAL,XVOR,LENDU UM12 SARNO,x\n")
    return path


def test_added_listed_removed(command, rows):
    assert command("known", "list")[1] == "No known routes were added. Add some: routecheck known add FILE\n"
    code, out, _ = command("known", "add", rows, "--date", "2026-12-03")
    assert code == 0
    assert "Added routes.csv\n  2 known routes from 3 rows" in out
    assert "Rows not among them: 1 could not be read." in out
    assert "Columns not used: remark." in out
    assert "Of 1 row something is Wrong:\n    line 4: “LENDU UM12 SARNO”: SARNO is not on" in out
    assert f"To leave them out: routecheck known add --leave-out-wrong --date 2026-12-03 {rows}" in out
    assert "1 left out" not in out
    out = command("known", "add", rows, "--date", "2026-12-03", "--leave-out-wrong")[1]
    assert "1 known route from 3 rows" in out
    assert "1 could not be read and 1 left out with something Wrong" in out
    listed = json.loads(command("known", "list", "--format", "json")[1])
    assert [(one["name"], one["routes"], one["left_out"]) for one in listed] == [("routes.csv", 1, 1)]
    assert command("known", "remove", "routes.csv")[1] == "Removed routes.csv.\nNo known routes are left.\n"


def test_nothing_usable_is_not_added(command, tmp_path):
    path = tmp_path / "none.csv"
    path.write_text("departure,destination,route\nXVAL,XVOR,QQQQQ\n")
    code, _out, errors = command("known", "add", path)
    assert code == 3
    assert "none.csv: none of its rows can be used as a known route" in errors
    assert "the first because nothing of it is in the navigation data" in errors
    good = tmp_path / "good.csv"
    good.write_text("departure,destination,route\nXVAL,XVOR,LENDU\n")
    code, out, errors = command("known", "add", path, good)
    assert (code, "Added good.csv" in out, "none.csv: none of its rows" in errors) == (3, True, True)


def test_what_is_missing_is_a_complaint(command):
    assert command("known", "add", "nowhere.csv")[0] == 2
    assert "there are no known routes called x: none were added" in command("known", "remove", "x")[2]
    assert command("known", "add", "x.csv", "--date", "soon")[0] == 2


def test_every_command_asks_the_kept_collections(command, tmp_path):
    kept = tmp_path / "kept.csv"
    ends = ("SARNO", "ORO", "SARNO NILAK")
    kept.write_text("\n".join(["departure,destination,route", *(f"XVAL,XVOR,LENDU UM12 TOVIK {end}" for end in ends)]))
    route = tmp_path / "a.route.toml"
    route.write_text('schema = 1\ndeparture = "XVAL"\ndestination = "XVOR"\nroute = "LENDU UM12 RULPO SARNO"\n')
    asked = {
        "proof": (route,),
        "compare": (route, route),
        "export": (route, "-o", tmp_path / "a.gpx"),
    }
    evidence = "2 known routes leave UM12 there for SARNO, none at RULPO"
    before = {name: command(name, *given)[1] for name, given in asked.items()}
    command("known", "add", kept)
    after = {name: command(name, *given)[1] for name, given in asked.items()}
    assert [name for name in asked if evidence in before[name] or evidence not in after[name]] == []


def test_a_folder_or_several_route_files_make_one_collection(command, tmp_path):
    folder = tmp_path / "stored"
    folder.mkdir()
    for name, route in (("a", "LENDU UM12 TOVIK"), ("b", "LENDU UM12 PIKAR"), ("c", "")):
        text = f'schema = 1\ndeparture = "XVAL"\ndestination = "XVOR"\nroute = "{route}"\n'
        (folder / f"{name}.route.toml").write_text(text)
    for given in ([folder], sorted(folder.iterdir())):
        out = command("known", "add", *given)[1]
        assert out.startswith("Added stored")
        assert "2 known routes from 3 rows" in out
    assert out.startswith("Added stored, in place of the one of that name\n")
    assert [one["name"] for one in json.loads(command("known", "list", "--format", "json")[1])] == ["stored"]
    empty = tmp_path / "empty"
    empty.mkdir()
    assert "there is no route input in the folder" in command("known", "add", empty)[2]
