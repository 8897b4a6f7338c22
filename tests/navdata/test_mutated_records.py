"""No record of navigation data is dropped, doubled, hidden or cut off in silence."""

from hypothesis import given
from hypothesis import strategies as st
from mutated_records import RECORDS


@given(seed=st.integers(0, 2**32))
def test_no_mutation_passes_in_silence(seed):
    assert RECORDS.find_silent(seed) is None
