"""The lines for Spark in the README, run with pandas alone: mapInPandas gives frames and takes frames."""

import re
from pathlib import Path

import pytest

README = Path(__file__).parents[2] / "README.md"


def test_the_lines_of_the_readme_check_frames():
    pandas = pytest.importorskip("pandas", reason="pandas is not installed")
    code = re.search(r"<!-- spark -->\n```python\n(.*?)```", README.read_text("utf-8"), re.DOTALL).group(1)
    definition = code.partition("\n# ")[0]
    assert len(definition.splitlines()) <= 14
    names = {}
    exec(definition.replace('"FAACIFP18.zip"', ""), names)
    routes = ["LENDU UM12 PIKOR DCT SARNO", "LENDU DCT PIKAR UM12 TOVIK DCT SARNO"]
    frame = pandas.DataFrame({"departure": "XVAL", "destination": "XVOR", "route": routes})
    (out,) = names["check"](iter([frame]))
    assert list(out["weight"]) == ["wrong", ""]
    assert out["message"][0].startswith("PIKOR is not on UM12")
