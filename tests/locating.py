"""`farend-sim locate` for tests: a record, and a method run on it."""

from click.testing import CliRunner, Result

from tui.commands import main

RECORD = """
format = 1
[plant]
temperature_c = 10.0
[[plant.section]]
name = "A"
gauge_awg = 24
length_ft = 4000
[[plant.section]]
name = "B"
gauge_awg = 26
length_m = 700
[[plant.section]]
diameter_mm = 0.6
length_m = 300
[[plant.tap]]
name = "T"
at_m = 900
gauge_awg = 24
length_m = 150
"""


def locate(record: str, method: str, *words: str) -> Result:
    """Run a method as a person does; an exception of ours would come through."""
    return CliRunner().invoke(main, ["locate", method, record, *words], catch_exceptions=False)
