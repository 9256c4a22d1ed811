"""What `farend-sim line` tells of odd pairs, and that what does not conduct changes nothing."""

from dataclasses import replace

import pytest

from farend_sim.bench.line_report import line_report
from farend_sim.situation import Situation
from farend_sim.unit.table import STATES
from line_model.troubles import Battery, Leak, Series, Trouble


def _with(situation: Situation, *troubles: Trouble) -> Situation:
    return replace(situation, scenario=replace(situation.scenario, trouble=troubles))


@pytest.mark.parametrize("state", STATES)
def test_no_path_is_no_level(good_pair: Situation, state: str) -> None:
    """A leg open at the near terminals: no gain and no level, not those of a rounding error."""
    cut = Series(kind="series", conductor="ring", at_m=0.0)
    report = line_report(_with(good_pair, cut), state)

    assert {None} == {row["gain_db"] for row in report["ac"]}
    assert {None} == {row["input_ohm"] for row in report["ac"]}
    assert {None} == {*report["receiver"]["level_dbm"].values()}
    assert report["receiver"]["hears"] is False
    assert report["receiver"]["why"]


@pytest.mark.parametrize("state", STATES)
def test_protection_that_does_not_conduct_is_not_there(good_pair: Situation, state: str) -> None:
    """With 72 V on a leg the unit's surge protection changes not one figure in any state."""
    cross = Battery(kind="battery", conductor="tip", at_m=700.0, volt=-72.0, ohm=300.0)
    with_it = _with(good_pair, cross)
    bare = replace(with_it.unit, electrical=replace(with_it.unit.electrical, surge_volt=None))
    reports = [line_report(each, state) for each in (with_it, replace(with_it, unit=bare))]

    for report in reports:
        del report["unit"]
    assert reports[0] == reports[1]


def test_ohms_are_those_with_sources_at_rest(good_pair: Situation) -> None:
    """A leak that a foreign battery breaks down is in the volts, and in no driving-point ohms."""
    cross = Battery(kind="battery", conductor="tip", at_m=700.0, volt=-50.0, ohm=5e3)
    leak = Leak(kind="leak", between=("tip", "ring"), at_m=900.0, ohm=2e3, breakdown_volt=20.0)
    grounded = Leak(kind="leak", between=("ring", "sheath"), at_m=900.0, ohm=3e3)
    with_it = line_report(_with(good_pair, cross, grounded, leak))["dc"]
    without = line_report(_with(good_pair, cross, grounded))["dc"]

    assert {pair: one["ohm"] for pair, one in without.items()} == {
        pair: one["ohm"] for pair, one in with_it.items()
    }
    # 30 V over 5 kilohm, 2 and 3
    assert pytest.approx(-9.0, rel=0.05) == with_it["ring-sheath"]["volt"]
