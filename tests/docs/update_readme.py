"""Write what is generated of the checks: the table in the README and the catalogue in resources/checks.json, from which
`routecheck explain` is answered. Run it after adding or changing a check."""

import json
import re
from pathlib import Path

from routecheck.checks.catalogue import collect
from routecheck.report.check_descriptions import describe_check, tabulate_checks

ROOT = Path(__file__).resolve().parents[2]
README, CATALOGUE = ROOT / "README.md", ROOT / "resources" / "checks.json"


def with_checks(text: str) -> str:
    """The README's text with the table of checks as the catalogue has it now."""
    fresh = f"<!-- checks -->\n{tabulate_checks(collect())}<!-- end of checks -->"
    return re.sub(r"<!-- checks -->\n.*?<!-- end of checks -->", lambda _: fresh, text, flags=re.DOTALL)


def catalogue() -> str:
    """What all checks say of themselves, as the file in the resources has it."""
    return json.dumps([describe_check(check) for check in collect()], ensure_ascii=False, indent=1) + "\n"


if __name__ == "__main__":
    README.write_text(with_checks(README.read_text("utf-8")), "utf-8")
    CATALOGUE.write_text(catalogue(), "utf-8")
