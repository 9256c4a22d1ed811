"""Foreign voltage, looked for before a meter puts a voltage of its own on a pair.

Law: direct and alternating voltage count alike, whichever is more; what is over the meter's limit
is told in words, and nothing is tested.
"""

from math import sqrt

from line_model.meters.cycle import Amount, Came
from line_model.standing import Standing

FOREIGN = "foreign voltage"
"""What the display says instead of testing."""


def seen(
    standing: Standing, nodes: tuple[tuple[str, str], ...], from_us: int, to_us: int
) -> Amount:
    """For each pair of nodes the mean voltage [V] and the mean square of what alternates [V2]."""
    amount: list[complex] = []
    for a, b in nodes:
        sines = standing.alternating(a, b, from_us, to_us)
        amount.append(standing.mean(a, b, from_us, to_us) or 0.0)
        amount.append(sum((sine.mean_square for sine in sines), 0.0))
    return tuple(amount)


def refused(amount: Amount, limit_volt: float) -> Came | None:
    """What the display says of it; None below the limit."""
    direct = (each.real for each in amount[::2])
    alternating = (sqrt(max(each.real, 0.0)) for each in amount[1::2])
    worst_volt = max((*direct, *alternating), key=abs)
    if abs(worst_volt) <= limit_volt:
        return None
    return Came(None, FOREIGN, more=(("foreign_volt", worst_volt),))
