"""e^x, e^x - 1 of x <= 0 and ln x in singles, for compiled loops: unlike the library calls, many at once.

e^x as 2^n times a polynomial on [-ln 2 / 2, ln 2 / 2], with the coefficients of Cephes' expf (Moshier); error
below 2e-7 of the value. ln x, x = 2^n m with m in [sqrt 1/2, sqrt 2], as n ln 2 + 2 artanh((m - 1)/(m + 1))
by the series of artanh, whose next term is below 1e-9; error below 2e-7, or 2e-7 of a larger value.
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
LN_2 = np.float32(0.6931471805599453)
ROOT_HALF, FRACTION, BITS = np.int32(0x3F3504F3), np.int32(0x7FFFFF), np.int32(23)
"""The bits of sqrt 1/2, those of a fraction, and how many they are."""
TWO, A3, A5, A7, A9 = (
    np.float32(2),
    np.float32(2 / 3),
    np.float32(2 / 5),
    np.float32(2 / 7),
    np.float32(2 / 9),
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


@njit(cache=True, nogil=True, fastmath=FAST, error_model="numpy", inline="always")
def log(x):
    """The natural logarithm of a normal x > 0."""
    bits = np.int32(np.float32(x).view(np.int32) - ROOT_HALF)
    power = np.float32(np.int32(bits >> BITS))
    part = np.int32(np.int32(bits & FRACTION) + ROOT_HALF).view(np.float32)
    s = (part - ONE) / (part + ONE)
    t = s * s
    return power * LN_2 + s * (TWO + t * (A3 + t * (A5 + t * (A7 + t * A9))))
