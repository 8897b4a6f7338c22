"""No record of navigation data is dropped, doubled, hidden or cut off in silence."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from mutated_records import DATA_READERS


@pytest.mark.parametrize("reader", DATA_READERS, ids=lambda reader: reader.name)
@given(seed=st.integers(0, 2**32))
def test_no_mutation_passes_in_silence(reader, seed):
    assert reader.find_silent(seed) is None
