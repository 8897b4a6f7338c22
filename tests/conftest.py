"""What every test may ask for: the data beside the repository, and one fixed hypothesis profile. No tests here."""

import pathlib

import pytest
from hypothesis import settings

ROOT = pathlib.Path(__file__).resolve().parents[1]

settings.register_profile("house", deadline=None, max_examples=60, derandomize=True)
settings.load_profile("house")


@pytest.fixture(scope="session")
def root() -> pathlib.Path:
    """The top of the repository."""
    return ROOT


@pytest.fixture(scope="session")
def test_data(root: pathlib.Path) -> pathlib.Path:
    """The committed data of the tests."""
    return root / "tests" / "data"


@pytest.fixture(scope="session")
def shared_data(root: pathlib.Path) -> pathlib.Path:
    """The folder of large data beside the repository; the test is skipped, saying so, where there is none."""
    folder = root.parent / "shared" / "data"
    if not folder.is_dir():
        pytest.skip("no folder shared/data beside the repository: the large data is not committed")
    return folder
