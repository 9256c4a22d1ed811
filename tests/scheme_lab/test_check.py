"""The check finds each planted defect, says nothing of the good scheme, and is right about both."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from farend_sim import shipped
from farend_sim.files import find_scheme, load_situation
from farend_sim.scheme_lab.check import judge, knocks
from farend_sim.scheme_lab.check.check import Report, check
from farend_sim.scheme_lab.check.deafness import deaf_states
from farend_sim.scheme_lab.check.explore import explore
from farend_sim.scheme_lab.check.finding import KINDS
from farend_sim.scheme_lab.check.model import SHIPPED, Model
from farend_sim.scheme_lab.check.never import broken
from farend_sim.scheme_lab.check.slip_matrix import HARM
from farend_sim.unit import codes
from farend_sim.unit.contacts import Contact
from farend_sim.unit.scheme import Never
from farend_sim.unit.scheme_problems import hazards
from farend_sim.unit.table import HOLDS, Action, Input, State

BAD = Path(__file__).parents[1] / "data" / "bad_schemes"
PLANTED = {
    "none": set(),
    "big-pad": {"big-pad"},
    "calls": {"calls"},
    "clash": {"clash", "slip"},  # what clashes cannot be a slip away from itself only
    "confirmed-slip": {"slip"},
    "deaf-only": {"deaf-only"},
    "double-answer": {"double-answer"},
    "endless-hold": {"endless-hold"},
    "equal-keys": {"equal-keys"},
    "long-lock": {"long-lock"},
    "never-at-all": {"never-broken"},
    "never-broken": {"never-broken"},
    "never-taken": {"never-taken"},
    "never-taken-argument": {"never-taken"},
    "next-misread": {"next-misread", "swallowed-knock"},  # the second follows from the first
    "short-gap": {"short-gap"},
    "slip": {"slip"},
    "speech-knocks": {"speech-knocks"},
    "stale-keys": {"stale-keys"},
    "subscriber-knocks": {"subscriber-knocks"},
    "swallowed-knock": {"swallowed-knock"},
    "two-slips": {"two-slips"},
}
ELSEWHERE = {"no-way-home", "bad-contacts"}
"""These take another unit table, and have a test of their own."""


@cache
def checked(name: str) -> Report:
    return check(find_scheme(name, draft=True), load_situation("good-pair"))


def test_every_kind_is_planted_somewhere() -> None:
    """No kind of finding goes untested, and no bad file is forgotten."""
    assert set(KINDS) == set().union(*PLANTED.values()) | ELSEWHERE
    assert {path.stem for path in BAD.glob("*.toml")} == set(PLANTED)


@pytest.mark.parametrize("name", PLANTED)
def test_a_planted_defect_is_found_and_nothing_else(name: str) -> None:
    """One defect a file; each counterexample, played into the unit, ends where it says."""
    report = checked(str(BAD / f"{name}.toml"))

    assert {finding.kind for finding in report.findings} == PLANTED[name]
    assert all(finding.played for finding in report.findings)
    for finding in report.findings:
        times = [each.t_s for each in finding.keys]
        assert times
        assert times == sorted(times)
    assert report.bad == (name not in ("none", "big-pad"))


def test_the_shipped_scheme_is_clean() -> None:
    """Its slip claim, over every argument and every slip: nothing but what was meant."""
    report = checked("offset")

    assert report.findings == ()
    assert (report.matrix.harmful, report.arguments, report.distance) == (0, 896, 2)
    assert report.matrix.slips > 250_000


@pytest.mark.parametrize(
    ("name", "kinds", "distance"),
    [
        ("terse", {"slip"}, 1),
        ("framed", {"next-misread", "swallowed-knock"}, 2),
        ("welded", {"slip", "stale-keys"}, 1),
        (
            "shut-in",
            {
                "subscriber-knocks",
                "speech-knocks",
                "never-taken",
                "deaf-only",
                "never-broken",
                "short-gap",
                "long-lock",
            },
            2,
        ),
    ],
)
def test_what_is_said_of_the_others(name: str, kinds: set[str], distance: int) -> None:
    """The comparison's prices, and what the teaching examples teach."""
    report = checked(name)

    assert {finding.kind for finding in report.findings} == kinds
    assert report.distance == distance


@pytest.mark.parametrize("name", ["offset", "terse", "framed", "welded", "shut-in", *PLANTED])
def test_matrix_and_distance_agree(name: str) -> None:
    """A distance of one is a slip that does something else, and the other way round."""
    report = checked(str(BAD / f"{name}.toml") if name in PLANTED else name)
    harmed = [key for key, count in report.matrix.count.items() if count and key[2] == HARM[0]]

    assert (report.distance == 1) == bool(harmed)


@pytest.mark.parametrize("name", ["welded", "shut-in"])
def test_the_note_beside_a_bad_scheme_tells_its_findings(name: str) -> None:
    """Each finding and its first keys stand in the note, and none that is not there."""
    note = (shipped.folder("schemes") / f"{name}.md").read_text()
    report = checked(name)

    assert {kind for kind in KINDS if f"`{kind}`" in note} == {f.kind for f in report.findings}
    first = {finding.kind: finding for finding in reversed(report.findings)}
    for finding in first.values():
        runs = "".join(each.what if len(each.what) == 1 else " " for each in finding.keys)
        assert all(f"`{run}`" in note for run in runs.split())


def test_what_broke_an_invariant_is_shown_at_its_pace() -> None:
    """A strap over in the shortest hold there is, then a leg: the times of the keys say when."""
    never = Never(does="tip-ground", within_s=9.0, after="strap")
    scheme, on = find_scheme("offset"), load_situation("good-pair")
    code = codes.compiled(scheme)
    model = Model(code, scheme.keys, deaf=deaf_states(on))
    explored = explore(model, by_hand=False)

    (soon,) = broken(replace(scheme, never=(never,)), model, explored, on.unit)
    none = broken(replace(scheme, never=(replace(never, within_s=5.5),)), model, explored, on.unit)

    runs = "".join(each.what if len(each.what) == 1 else " " for each in soon.keyed).split()
    asked = next(at for at, each in enumerate(soon.keyed) if each.what == "over") - 1
    assert runs == ["#*27850059*", "#*2718*", "#*2729*"]
    assert soon.after_s == pytest.approx(soon.keyed[-1].t_s - soon.keyed[asked].t_s)
    assert 5.5 < soon.after_s < 9.0
    assert list(none) == []


def test_a_hazard_that_loading_refuses_is_found() -> None:
    """Whatever keeps a scheme from being loaded as sound, the check tells."""
    refused = {
        name for name in PLANTED if hazards(find_scheme(str(BAD / f"{name}.toml"), draft=True))
    }

    assert refused == {"calls", "clash", "endless-hold", "equal-keys"}


def test_a_state_without_a_timer_is_found() -> None:
    """A table in which a strap outlives its hold has no way home."""
    stuck = {(State.STRAP, Input.OVER): (State.STRAP, Action.IGNORE)}
    table = replace(SHIPPED, table={**SHIPPED.table, **stuck})
    scheme = find_scheme("offset")
    model = Model(codes.compiled(scheme), scheme.keys, table)

    found = list(judge.homeless(model, explore(model, by_hand=False)))

    assert [(finding.kind, "".join(way)) for finding, way in found] == [("no-way-home", "#*2718*")]


@pytest.mark.parametrize(
    ("state", "closed"),
    [
        (State.STRAP, {Contact.STRAP, Contact.SERIES}),
        (State.TONE, {Contact.TONE, Contact.STRAP}),
        (State.OFF_PAIR, {Contact.OFF_PAIR, Contact.TIP_GROUND}),
    ],
)
def test_contacts_that_may_not_meet_are_found(state: State, closed: set[Contact]) -> None:
    """A table that closes a contact too many is shown by the keys that close it."""
    unit = replace(SHIPPED, settled={**SHIPPED.settled, state: frozenset(closed)})
    scheme = find_scheme("offset")
    explored = explore(Model(codes.compiled(scheme), scheme.keys, unit), by_hand=False)

    found = [finding.kind for finding, _ in judge.contacts(explored, unit)]

    assert found
    assert set(found) == {"bad-contacts"}


def test_the_shipped_table_has_neither() -> None:
    """With acts by hand as well, from everywhere."""
    scheme = find_scheme("offset")
    model = Model(codes.compiled(scheme), scheme.keys)
    explored = explore(model)

    assert list(judge.homeless(model, explored)) == list(judge.contacts(explored, SHIPPED)) == []
    assert {at.state for at in explored.came} == set(State)


@pytest.mark.parametrize("knock", ["227", "11", "2727", "12"])
def test_numbers_that_knock_are_counted_right(knock: str) -> None:
    """Against every number of five digits, one by one."""
    brute = sum(knock in f"{number:05}" for number in range(100_000))

    assert brute == knocks.numbers_that_knock(knock, 5)


def test_a_commanded_unit_is_deaf_by_the_line_alone() -> None:
    """On a good pair strap and off-pair are deaf, and a hold that hears is not."""
    deaf = checked("offset").deaf

    assert {State.STRAP, State.OFF_PAIR} <= set(deaf)
    assert set(HOLDS) - set(deaf) >= {State.TONE, State.OPEN, State.TIP_GROUND}
