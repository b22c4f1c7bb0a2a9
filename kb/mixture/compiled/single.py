"""e^x and e^x - 1 of x <= 0 in singles, for compiled loops: unlike the library calls, for many at once.

As 2^n times a polynomial on [-ln 2 / 2, ln 2 / 2], with the coefficients of Cephes' expf (Moshier); error
below 2e-7 of the value.
"""

import numpy as np
from numba import njit

FAST = {"reassoc", "contract", "nsz", "nnan", "ninf", "arcp"}
ONE = np.float32(1.0)
LOG2_E = np.float32(1.4426950408889634)
LN2_HIGH, LN2_LOW = np.float32(0.693359375), np.float32(-2.12194440e-4)
C2, C3, C4, C5, C6, C7 = (
    np.float32(1 / 2),
    np.float32(1.6666665459e-1),
    np.float32(4.1665795894e-2),
    np.float32(8.3334519073e-3),
    np.float32(1.3981999507e-3),
    np.float32(1.9875691500e-4),
)
LEAST, MOST = np.float32(-87.0), np.float32(87.0)


@njit(cache=True, nogil=True, fastmath=FAST, inline="always")
def _apart(x):
    """2^n, and e^r - 1."""
    n = np.floor(x * LOG2_E + np.float32(0.5))
    r = x - n * LN2_HIGH - n * LN2_LOW
    p = ((((C7 * r + C6) * r + C5) * r + C4) * r + C3) * r + C2
    return np.int32((np.int32(n) + 127) << 23).view(np.float32), p * r * r + r


@njit(cache=True, nogil=True, fastmath=FAST, inline="always")
def exp(x):
    """e^x, x held to [-87, 87]."""
    power, rest = _apart(min(max(x, LEAST), MOST))
    return power * rest + power


@njit(cache=True, nogil=True, fastmath=FAST, inline="always")
def expm1(x):
    """e^x - 1 of x <= 0."""
    power, rest = _apart(max(x, LEAST))
    return power * rest + (power - ONE)
