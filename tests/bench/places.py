"""A plant with places on its way, and what is done and read there, for tests."""

from tests.bench.play import Row, readings

ACCESS = """
[[plant.section]]
gauge_awg = 24
length_m = 1000.0
[[plant.section]]
gauge_awg = 26
length_m = 1500.0
[[plant.access]]
name = "Mill Lane"
at_m = 600.0
[[plant.access]]
name = "Culvert"
at_m = 1400.0
kind = "pedestal"
travel_s = 400.0
"""
LEAK = """
[[trouble]]
kind = "leak"
between = ["tip", "sheath"]
at_m = 1900.0
ohm = 40e3
"""
REVERSAL = '[[trouble]]\nkind = "reversal"\nat_m = 600.0\n'
READ_ALL = "".join(
    f"meter ohms {across}\nread\n" for across in ("tip-ring", "tip-sheath", "ring-sheath")
)
LEG_TO_GROUND = "keys #*2729*\nlisten 2\n" + READ_ALL + "meter off\n"
OPEN = "open-joint\n"
STRAIGHT = "join tip tip\njoin ring ring\n"
CROSSED = "join tip ring\njoin ring tip\n"


def values(rows: list[Row]) -> list[float | None]:
    """What was read, in order."""
    return [row["value"] for row in readings(rows)]


def refusals(rows: list[Row]) -> list[str]:
    """What was refused, in order."""
    return [row["refused"] for row in rows if "refused" in row]
