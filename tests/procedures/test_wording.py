"""What procedures are called, in words."""

import pytest

from routecheck.procedures.wording import procedure_stem


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("SARNO2", "SARNO"),
        ("VAL3B", "VAL"),
        ("LENDU12", "LENDU"),
        ("SARNO", "SARNO"),
        ("VAL3BC", "VAL"),
        ("V2X4", "V2X"),
        ("7", ""),
        ("", ""),
    ],
)
def test_the_stem_of_a_procedure_is_its_name_without_number_and_route_letter(name, stem):
    assert procedure_stem(name) == stem
