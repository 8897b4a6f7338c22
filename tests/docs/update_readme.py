"""Write the parts of the README that are generated: the table of checks. Run it after adding or changing a check."""

import re
from pathlib import Path

from routecheck.checks.catalogue import collect
from routecheck.report.explanation import tabulate_checks

README = Path(__file__).resolve().parents[2] / "README.md"


def with_checks(text: str) -> str:
    """The README's text with the table of checks as the catalogue has it now."""
    fresh = f"<!-- checks -->\n{tabulate_checks(collect())}<!-- end of checks -->"
    return re.sub(r"<!-- checks -->\n.*?<!-- end of checks -->", lambda _: fresh, text, flags=re.DOTALL)


if __name__ == "__main__":
    README.write_text(with_checks(README.read_text("utf-8")), "utf-8")
