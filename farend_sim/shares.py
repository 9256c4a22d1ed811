"""How surely a share is known from a count.

Source: E. B. Wilson, 1927; NIST/SEMATECH e-Handbook 7.2.4.1.
"""

import math

SIGMAS = 1.959964
"""Of a 95 % interval, by the normal law."""


def wilson(share: float, count: float) -> tuple[float, float]:
    """Wilson's 95 % interval for a share of so many trials."""
    if count <= 0:
        return 0.0, 1.0
    z2 = SIGMAS**2 / count
    middle = (share + z2 / 2) / (1 + z2)
    half = SIGMAS / (1 + z2) * math.sqrt(max(0.0, share * (1 - share) / count + z2 / count / 4))
    # of none and of all the bound is the share itself, and rounding may not cross it
    return max(0.0, min(share, middle - half)), min(1.0, max(share, middle + half))
