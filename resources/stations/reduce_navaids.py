"""Makes the world list of radio stations from `navaids.csv` of ourairports-data: a line a station, sorted by ident.

    python reduce_navaids.py navaids.csv

Writes `world_stations.txt.xz` beside this script: ident, kind, latitude, longitude in degrees, rounded to 0.001. Kinds:
V = VOR, W = VOR with DME or TACAN, D = DME or TACAN, N = NDB. Only idents of one to three letters, each spot once. Run
once; the same input gives the same bytes.
"""

import csv
import lzma
import re
import sys
from pathlib import Path

KINDS = {"VOR": "V", "VOR-DME": "W", "VORTAC": "W", "DME": "D", "TACAN": "D", "NDB": "N", "NDB-DME": "N"}
IDENT = re.compile(r"[A-Z]{1,3}")


def lines(rows):
    """One line a station."""
    for row in rows:
        lat, lon = float(row["latitude_deg"]), float(row["longitude_deg"])
        if IDENT.fullmatch(row["ident"]) and row["type"] in KINDS and abs(lat) <= 90 and abs(lon) <= 180:
            yield f"{row['ident']} {KINDS[row['type']]} {lat:.3f} {lon:.3f}"


def main(source):
    """Read the table, write the list."""
    with Path(source).open(encoding="utf-8", newline="") as file:
        stations = sorted(set(lines(csv.DictReader(file))))
    text = "\n".join(stations) + "\n"
    packed = lzma.compress(text.encode("ascii"), preset=9)
    Path(__file__).with_name("world_stations.txt.xz").write_bytes(packed)


if __name__ == "__main__":
    main(sys.argv[1])
