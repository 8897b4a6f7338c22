"""Pairs of programs that add a file of one name to the store at the same moment, many of them in a row.

Run as a program of its own: it forks, which a test must not. `python pairs.py FOLDER PAIRS` prints what was lost.
"""

import json
import os
import sys
from pathlib import Path

from routecheck.navdata import store

HEADER = "HDR04 VOLUME 2601"
FIX = "SXXXEAENRT   {ident}XX0           N{lat:02d}000000E020000000"


def make_file(folder: Path, ident: str, name: str, lat: int) -> Path:
    path = folder / ident / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(f"{HEADER}\n{FIX.format(ident=ident, lat=lat).ljust(132)}\n", "latin-1")
    return path


def add_in_child(path: Path, gate: int) -> int:
    child = os.fork()
    if child:
        return child
    os.read(gate, 1)  # ends when the parent lets go
    try:
        store.add_file(path)
    except BaseException as error:
        sys.stderr.write(f"{error}\n")
        os._exit(1)
    os._exit(0)


def add_pair(paths: list[Path]) -> list[int]:
    """The exit codes of two programs that add at once."""
    gate, hold = os.pipe()
    children = [add_in_child(path, gate) for path in paths]
    for _ in paths:
        os.write(hold, b".")
    codes = [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children]
    os.close(gate)
    os.close(hold)
    return codes


def faults_of_store(name: str, idents: set[str]) -> list[str]:
    files = store.stored_files()
    found = [f"{file.name} has no copy" for file in files if not file.copy.exists()]
    found += [f"{name} stands {count} times" for count in [sum(f.name == name for f in files)] if count != 1]
    database = store.open_store()
    known = set(database.names()) if database else set()
    if not idents & known:
        found.append(f"neither {' nor '.join(sorted(idents))} is there")
    if "ZAQIP" not in known:
        found.append("what was there before is gone")
    return found


def main(folder: Path, pairs: int) -> None:
    os.environ["XDG_DATA_HOME"] = str(folder / "data")
    store.add_file(make_file(folder, "ZAQIP", "old.txt", 10))
    faults = []
    for pair in range(pairs):
        # By turns: two contents of one name, one content of one name, and one that another of the two may replace.
        lats = [(pair % 80, pair % 80 + 1), (5, 5), (pair % 2, 1 - pair % 2)][pair % 3]
        paths = [make_file(folder, ident, "new.txt", lat) for ident, lat in zip(("AAAAA", "BBBBB"), lats, strict=True)]
        if pair % 3 == 1:
            paths[1] = paths[0]
        codes = add_pair(paths)
        if any(codes):
            faults.append(f"pair {pair}: a program failed")
        faults += [f"pair {pair}: {fault}" for fault in faults_of_store("new.txt", {"AAAAA", "BBBBB"})]
    sys.stdout.write(f"{json.dumps(faults)}\n")


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
