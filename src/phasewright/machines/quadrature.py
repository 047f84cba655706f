"""Gauss-Legendre quadrature: its points are found once for each count."""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


@lru_cache(maxsize=16)
def gauss_legendre(count: int) -> tuple[Floats, Floats]:
    """Points and weights, each (count,), of the integral from -1 to 1; not to be written to."""
    nodes, weights = np.polynomial.legendre.leggauss(count)
    nodes.flags.writeable = weights.flags.writeable = False
    return nodes, weights
