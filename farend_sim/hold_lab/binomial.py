"""How surely a share is known from a count: the interval of Wilson, and the exact one.

Sources: NIST/SEMATECH e-Handbook 7.2.4.1 (Wilson) and 7.2.4.2 (exact, after Clopper and Pearson).
"""

from math import sqrt


def wilson(count: int, n: int, confidence: float = 0.95) -> tuple[float, float]:
    """The interval of a share, good for small counts as well."""
    from scipy.special import ndtri

    z = float(ndtri((1 + confidence) / 2))
    p = count / n
    middle = p + z * z / (2 * n)
    off = z * sqrt(p * (1 - p) / n + z * z / (4 * n * n))
    whole = 1 + z * z / n
    return max(0.0, (middle - off) / whole), min(1.0, (middle + off) / whole)


def exact(count: int, n: int, confidence: float = 0.95) -> tuple[float, float]:
    """The interval that covers at least as often as it says."""
    from scipy.special import betaincinv

    outside = (1 - confidence) / 2
    low = float(betaincinv(count, n - count + 1, outside)) if count else 0.0
    high = float(betaincinv(count + 1, n - count, 1 - outside)) if count < n else 1.0
    return low, high
