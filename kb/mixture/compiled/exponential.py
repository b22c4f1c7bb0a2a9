"""e^x and e^x - 1 in doubles, for compiled loops: unlike the library calls, done for many weeks at once.

x is taken apart as n ln 2 + r with r in [-ln 2 / 2, ln 2 / 2]; e^r - 1 is Taylor's series up to r^13, whose
next term is below 5e-18 of it. Within 3e-16 of the value (a test holds it against numpy's).
"""

import numpy as np
from numba import njit

FAST = {"reassoc", "contract", "nsz", "nnan", "ninf"}
"""What loops may take liberties with; not here, where the order of the steps is what keeps them exact."""
LOG2_E = 1.4426950408889634
LN2_HIGH, LN2_LOW = 6.93145751953125e-1, 1.42860682030941723212e-6
"""ln 2 as a sum whose first part times n is exact (Cody and Waite; the split of Cephes' exp)."""
LEAST = -700.0
"""Below this e^x - 1 is -1 to the last bit."""
C2, C3, C4, C5, C6, C7, C8, C9, C10, C11, C12, C13 = (
    1 / 2, 1 / 6, 1 / 24, 1 / 120, 1 / 720, 1 / 5040, 1 / 40320, 1 / 362880, 1 / 3628800, 1 / 39916800,
    1 / 479001600, 1 / 6227020800,
)  # fmt: skip


@njit(cache=True, fastmath={"contract", "nsz"}, error_model="numpy")
def _apart(x):
    """2^n, and e^r - 1, of x in [-700, 700]."""
    n = np.floor(x * LOG2_E + 0.5)
    r = x - n * LN2_HIGH - n * LN2_LOW
    p = ((((((C13 * r + C12) * r + C11) * r + C10) * r + C9) * r + C8) * r + C7) * r + C6
    p = ((((p * r + C5) * r + C4) * r + C3) * r + C2) * r + 1.0
    return np.int64((np.int64(n) + 1023) << 52).view(np.float64), p * r


@njit(cache=True, fastmath={"contract", "nsz"}, error_model="numpy")
def exp(x):
    """e^x of x in [-700, 700]."""
    power, rest = _apart(x)
    return power * rest + power


@njit(cache=True, fastmath={"contract", "nsz"}, error_model="numpy")
def expm1(x):
    """e^x - 1 of x <= 0."""
    power, rest = _apart(max(x, LEAST))
    return power * rest + (power - 1.0)
