"""What the built wheel holds, against the tree it was built from: python tests/wheel_contents.py WHEEL BUILD_LOG."""

import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
NOT_SHIPPED = {".py", ".pyc"}
"""Suffixes of what stays behind in the data folders: the scripts that made the data, and what Python left there."""
UNHEARD = "byte-compiling is disabled"
"""Said where PYTHONDONTWRITEBYTECODE is set: no fault of the package."""


def expected_files():
    """Every file of the package as its name in the wheel."""
    modules = (path.relative_to(ROOT).as_posix() for path in (ROOT / "routecheck").rglob("*.py"))
    names = {
        *modules,
        "routecheck/py.typed",
        "routecheck/resources/__init__.py",
        "routecheck/sample_routes/__init__.py",
    }
    for folder in ("resources", "sample_routes"):
        files = (path for path in (ROOT / folder).rglob("*") if path.is_file() and path.name != "LICENSE")
        names |= {f"routecheck/{path.relative_to(ROOT).as_posix()}" for path in files if path.suffix not in NOT_SHIPPED}
    return names


def find_faults(wheel, log):
    """What is wrong with a wheel and with what was said while it was built, a sentence each."""
    with zipfile.ZipFile(wheel) as archive:
        names = [name for name in archive.namelist() if not name.endswith("/")]
        licences = [archive.read(name) for name in names if ".dist-info/licenses/" in name]
    inside, expected = {name for name in names if ".dist-info/" not in name}, expected_files()
    faults = [f"lacks {name}" for name in sorted(expected - inside)]
    faults += [f"holds {name}, which does not belong there" for name in sorted(inside - expected)]
    if licences != [(ROOT / "resources" / "LICENSE").read_bytes()]:
        faults.append("does not hold the licence's text once")
    said = [line.strip() for line in log.splitlines() if "warning" in line.lower() or "deprecat" in line.lower()]
    return faults + [f"was built with the complaint: {line}" for line in said if UNHEARD not in line]


if __name__ == "__main__":
    found = find_faults(sys.argv[1], Path(sys.argv[2]).read_text("utf-8"))
    sys.exit("\n".join(f"the wheel {fault}" for fault in found) or 0)
