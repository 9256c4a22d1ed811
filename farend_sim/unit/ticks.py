"""Seconds of a file become the integer microseconds the firmware counts in."""


def to_us(seconds: float) -> int:
    """Return the nearest whole microsecond, so that no float ever keeps time."""
    return round(seconds * 1_000_000)
