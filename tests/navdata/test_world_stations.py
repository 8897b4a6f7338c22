"""The undated list of stations that comes with the program: what is in it, and that it is read only when asked."""

import lzma
import subprocess
import sys
from importlib.resources import files

from routecheck.model import PlaceKind
from routecheck.navdata.world_stations import SOURCE, world_stations


def test_stations_of_a_name_all_over_the_world() -> None:
    stations = world_stations("POS")
    assert [(round(one.lat), round(one.lon), one.kind) for one in stations] == [
        (-27, -56, PlaceKind.VOR_DME),
        (10, -61, PlaceKind.VOR_DME),
        (40, 3, PlaceKind.VOR_DME),
    ]
    assert {one.source for one in stations} == {SOURCE}
    assert world_stations("QQQ") == world_stations("LENDU") == ()


def test_the_list_is_small_and_in_order() -> None:
    packed = files("routecheck.resources").joinpath("stations", "world_stations.txt.xz").read_bytes()
    text = lzma.decompress(packed).decode("ascii")
    lines = text.splitlines()
    assert len(text) <= 400_000
    assert len(lines) == 10_826
    assert lines == sorted(set(lines))
    for line in lines:
        ident, _, lat, lon = line.split()
        (*_,) = world_stations(ident)
        assert abs(float(lat)) <= 90
        assert abs(float(lon)) <= 180


def test_a_route_that_is_covered_does_not_read_it() -> None:
    program = (
        "from routecheck.navdata import world_stations as w\n"
        "from routecheck.navdata.database import demo_database\n"
        "from routecheck.public import assess\n"
        "text, ends = 'LENDU DCT PIKUR DCT ZZZ DCT TOVIK', {'departure': 'XVAL', 'destination': 'XVOR'}\n"
        "answer = assess(text, navdata=demo_database(), **ends)\n"
        "assert len(answer.findings) > 1\n"
        "assert not w._lines.cache_info().currsize\n"
    )
    subprocess.run([sys.executable, "-c", program], check=True)
