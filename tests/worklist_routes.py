"""Routes of three files for runs in parts."""

from routecheck.model import Origin, RouteInput

TEXTS = ("LENDU DCT PIKAR UM12 TOVIK DCT SARNO", "LENDU DCT PIKER DCT UVAGI", "LENDU DCT PIKAR DCT LENDU DCT SARNO", "")
ROUTES = [
    RouteInput(
        TEXTS[n % 4], "XVAL", "XVOR", name=f"r.csv, line {n}", origin=Origin(f"{n // 7}.csv", n, (("gate", f"{n}"),))
    )
    for n in range(12)
]
GROUPS = [ROUTES[:5], ROUTES[5:6], ROUTES[6:]]
