"""The types of arrays, each under one name. Needed for annotations only, so nobody imports numpy for them."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]
Indices = NDArray[np.intp]
Integers = NDArray[np.int64]
