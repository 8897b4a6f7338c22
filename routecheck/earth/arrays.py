"""Names for arrays of figures, used in annotations only."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Numbers = NDArray[np.intp]
"""Indices and counts."""
Marks = NDArray[np.bool_]
"""For each element whether something holds."""
