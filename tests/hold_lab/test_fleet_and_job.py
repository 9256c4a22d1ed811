"""Fleets and jobs: defaults by brute force, sums of readings by tries, the shipped hold."""

from dataclasses import replace

import numpy as np
import pytest

from farend_sim.hold_lab.cost import Terms, expected_s
from farend_sim.hold_lab.fleet.fleet import FleetReport, fleet_report
from farend_sim.hold_lab.fleet.fleet_file import Fleet, FleetMeter, load_fleet
from farend_sim.hold_lab.job.job import job_report
from farend_sim.hold_lab.job.job_answer import job_answer
from farend_sim.hold_lab.job.job_file import load_job
from farend_sim.hold_lab.job.several import expected_resumed_s, expected_several_s
from farend_sim.hold_lab.on_pair.meter_in_use import situation_of
from farend_sim.hold_lab.scheme_times import command_s, span
from farend_sim.hold_lab.timings.durations import Lognormal
from farend_sim.unit.table import FUNCTIONS
from line_model.route import route
from tests.line_model.circuits import bare, strapped
from tests.line_model.meters.rig import reading
from tests.line_model.meters.rig import shipped as shipped_meter

OFFSET_S = 60.0


@pytest.fixture(scope="module")
def shipped() -> FleetReport:
    fleet = load_fleet("reference")
    return fleet_report(fleet, situation_of(fleet.scenario, fleet.scheme))


def test_the_shipped_default_is_the_labs_own_answer(shipped: FleetReport) -> None:
    """`offset` holds every function as long as the lab says for those who use the default.

    The criterion is the fleet's: the roundest hold within 2 % of the cheapest.
    """
    scheme = situation_of("good-pair", "offset").scheme
    defaults = {scheme.command_for(function).hold_s for function in FUNCTIONS}

    assert {shipped.rounded.hold_s} == defaults
    assert shipped.rounded.expected_s <= 1.02 * shipped.cheapest.expected_s


@pytest.mark.parametrize("bridge_share", [20.0, 50.0, 80.0])
def test_the_shipped_default_does_not_hang_on_its_shares(bridge_share: float) -> None:
    """From one to four fifths of straps for a bridge: at most 6 % over the best."""
    fleet = load_fleet("reference")
    ohms, bridge, *_ = fleet.meter
    mixed = (replace(ohms, share=100 - bridge_share), replace(bridge, share=bridge_share))
    report = fleet_report(replace(fleet, meter=mixed), situation_of(fleet.scenario, ""))

    (default,) = (each for each in report.compared if each.hold_s == OFFSET_S)
    assert default.expected_s <= 1.06 * report.cheapest.expected_s


def test_a_minute_is_enough_for_all_but_the_slow(shipped: FleetReport) -> None:
    """Common practice, and the lab: the quick bridge loses 2 % by it, a slow one all."""
    quick, slow = (
        next(each for each in shipped.members if each.name == name)
        for name in ("bridge-timed", "bridge-slow-timed")
    )
    lost = {
        each.name: expected_s(each.law, OFFSET_S, each.terms) / each.best - 1
        for each in (quick, slow)
    }

    assert lost["bridge-timed"] < 0.03
    assert lost["bridge-slow-timed"] > 2
    assert 240 < slow.best_s < 330


def trade_fleet() -> Fleet:
    """Seven tenths ohms of 8 s, three tenths a bridge of 60 s; a command costs 10 s."""
    return Fleet(
        format=1,
        title="two",
        command_s=10.0,
        meter=(
            FleetMeter(name="a", median_s=8.0, log_sd=0.3, share=70.0),
            FleetMeter(name="b", median_s=60.0, log_sd=0.5, share=30.0),
        ),
        source={},
    )


def test_a_fleets_defaults_are_those_of_brute_force() -> None:
    """The cheapest, the least regretted, the cheapest with a dialled hold: a grid of 0.05 s."""
    report = fleet_report(trade_fleet(), situation_of("good-pair", ""))
    at = np.arange(5.0, 300.0, 0.05)
    ohms = (10 + at) / Lognormal(8.0, 0.3).cdf(at)
    bridge = (10 + at) / Lognormal(60.0, 0.5).cdf(at)

    cost = 0.7 * ohms + 0.3 * bridge
    regret = np.maximum(ohms - ohms.min(), bridge - bridge.min())
    dial = report.dial_s
    dialled = 0.7 * np.minimum(ohms, ohms.min() + dial) + 0.3 * np.minimum(
        bridge, bridge.min() + dial
    )
    found = (report.cheapest.hold_s, report.least_regret.hold_s, report.with_dialled_s)
    by_force = tuple(float(at[each.argmin()]) for each in (cost, regret, dialled))
    assert found == pytest.approx(by_force, abs=0.1)
    assert (round(report.cheapest.hold_s), round(report.cheapest.expected_s, 1)) == (57, 90.7)
    assert report.with_dialled == pytest.approx(float(dialled.min()), rel=1e-5)
    assert report.dialling == ("b on strap",)


@pytest.mark.parametrize("hears", [False, True])
@pytest.mark.parametrize("hold_s", [50.0, 110.0])
def test_several_readings_in_a_hold_come_to_what_tries_do(hold_s: float, hears: bool) -> None:
    """Three readings of two kinds, what is read kept: exact against 40 000 jobs."""
    laws = (Lognormal(20.0, 0.4), Lognormal(20.0, 0.4), Lognormal(30.0, 0.5))
    terms = Terms(command_s=10.0, release_share=float(hears), release_s=8.0)
    rng = np.random.default_rng(1)
    totals = []
    for _ in range(40_000):
        spent, made = 0.0, 0
        while made < 3:
            at = 0.0
            while made < 3 and (at := at + laws[made].sample(rng, 1)[0]) <= hold_s:
                made += 1
            spent += 10.0 + (at + 8.0 if hears and made == 3 else hold_s)
        totals.append(spent)

    error_s = float(np.std(totals) / 200)
    assert expected_several_s(laws, hold_s, terms) == pytest.approx(
        float(np.mean(totals)), abs=4 * error_s + 0.002 * float(np.mean(totals))
    )


def test_one_of_several_is_the_closed_form() -> None:
    """A list of one reading costs what the closed form says, jobs that differ and all."""
    terms = Terms(command_s=10.0)
    for law in (Lognormal(30.0, 0.5), Lognormal(30.0, 0.25, 0.43)):
        assert expected_several_s((law,), 60.0, terms) == pytest.approx(
            expected_s(law, 60.0, terms), rel=2e-3
        )


def test_a_search_goes_on_from_hold_to_hold() -> None:
    """Work that resumes takes as many holds as fit around it."""
    law = Lognormal(90.0, 0.5)
    takes_s = law.sample(np.random.default_rng(1), 400_000)
    holds = np.ceil(takes_s / 60.0)

    deaf = expected_resumed_s(law, 60.0, Terms(command_s=10.0))
    hears = expected_resumed_s(law, 60.0, Terms(command_s=10.0, release_share=1.0, release_s=8.0))

    assert deaf == pytest.approx(float((70.0 * holds).mean()), rel=3e-3)
    assert hears == pytest.approx(float((10.0 * holds + takes_s + 8.0).mean()), rel=3e-3)


def test_a_jobs_exact_time_is_its_simulated_one() -> None:
    """The shipped job: expected and simulated agree, and beat the defaults."""
    job = load_job("both-legs")
    report = job_report(job, situation_of(job.scenario, job.scheme))

    simulated = report.simulated
    assert report.expected_s == pytest.approx(simulated.mean_s, abs=4 * simulated.error_s)
    assert report.expected_s < report.one_expected_s
    assert report.expected_s < report.default_expected_s


def test_a_single_hold_may_cost_more_than_the_defaults() -> None:
    """The best single hold is no worse but for its dialling, and the answer says what that is."""
    job = load_job("both-legs")
    report = job_report(job, situation_of(job.scenario, job.scheme))

    assert report.one_expected_s - report.dial_s <= report.default_expected_s
    assert f"bears {report.dial_s:.1f} s for the dialling" in job_answer(report).notes[1]


def test_what_a_scheme_can_express_is_what_it_takes() -> None:
    """Whole seconds from 5 to 900; the two around a wish, or the nearest end."""
    can = span(situation_of("good-pair", "offset").scheme, "strap")

    assert (can.near(42.9), can.near(2.0), can.near(5000.0)) == ((42.0, 43.0), (5.0,), (900.0,))


def test_a_command_takes_about_ten_seconds() -> None:
    """Seven keys by hand, two replies and the clips: of the order that common practice has."""
    assert 8 < command_s(situation_of("good-pair", ""), "strap") < 13


def test_spreads_of_a_meters_file_leave_its_readings_alone() -> None:
    """Spreads of a person's hands are the lab's: on a pair the meter reads as it does without."""
    profile = shipped_meter("ohms")
    cycle = replace(profile.cycle, reach_s=3.0, hands_log_sd=0.5, job_log_sd=0.4)
    pair = strapped(route(bare(1000.0), (), 0))

    plain, spread = (
        reading(each, "tip-ring", pair) for each in (profile, replace(profile, cycle=cycle))
    )

    assert plain == spread
