"""The check of a scheme: everything that can come about, and all that is wrong with it.

Law 1: exhaustive over scheme and unit table together; what is sampled says so in the report.
Law 2: every counterexample with keys is played into the running unit before it is told.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from farend_sim.scheme_lab.check import judge, knocks, reach
from farend_sim.scheme_lab.check.deafness import deaf_states
from farend_sim.scheme_lab.check.distance import Detour, detours, distance
from farend_sim.scheme_lab.check.explore import Explored, Way, explore
from farend_sim.scheme_lab.check.finding import Finding
from farend_sim.scheme_lab.check.model import SHIPPED, Model
from farend_sim.scheme_lab.check.never import broken
from farend_sim.scheme_lab.check.replay import replay
from farend_sim.scheme_lab.check.slip_matrix import HARM, MOST_VALUES, Matrix, matrix
from farend_sim.scheme_lab.check.words import word, words
from farend_sim.situation import Situation
from farend_sim.unit import codes
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.scheme_problems import HAZARDS
from farend_sim.unit.table import State

TWO_SLIPS_RISK = 1e-5
"""Two slips that cost a hundred-thousandth of a day a dial, or more, are told. Source: a choice."""


@dataclass(frozen=True, slots=True)
class Report:
    """What the check found, and what it looked at."""

    scheme: Scheme
    model: Model
    moments: int
    steps: int
    deaf: Mapping[State, str]
    findings: tuple[Finding, ...]
    matrix: Matrix
    detours: tuple[Detour, ...]
    distance: int

    @property
    def all_arguments(self) -> int:
        """How many arguments there are, of all commands that have one."""
        commands = self.model.scheme.commands
        return sum(len(each.values) for each in commands if each.argument_digits)

    @property
    def arguments(self) -> int:
        """How many of them had all their slips played."""
        return sum(bool(each.did.value) for each in words(self.model.scheme, MOST_VALUES))

    @property
    def bad(self) -> bool:
        """Whether anything was found that is more than a note."""
        return any(finding.severity != "note" for finding in self.findings)


def check(scheme: Scheme, on: Situation) -> Report:
    """Check a scheme without faults, on the plant and the unit of a situation."""
    compiled = codes.compiled(scheme)
    deaf = deaf_states(on)
    model = Model(compiled, scheme.keys, SHIPPED, deaf)
    explored = explore(model, by_hand=False)
    slips = matrix(model)
    around = detours(model)
    ways: list[tuple[Finding, Way]] = [
        *_hazards(scheme, compiled),
        *knocks.stray_knocks(scheme),
        *reach.short_gaps(scheme, compiled),
        *reach.big_pads(compiled),
        *judge.locks(scheme, explored),
        *judge.untaken(model, explored),
        *judge.homeless(model, explored),
        *judge.stale(explored),
        *judge.contacts(explored, SHIPPED),
        *_slips(model, slips),
        *_two_slips(model, around),
        *_neighbours(scheme),
        *_nevers(scheme, model, explored, on),
    ]
    if (way := knocks.swallowed(model)) is not None:
        what = "a knock, keyed while the unit attends, is not answered"
        ways.append((Finding("swallowed-knock", what), way))
    findings = [_played(model, on, finding, way) for finding, way in ways]
    order = {"error": 0, "warning": 1, "note": 2}
    findings.sort(key=lambda finding: order[finding.severity])
    steps = sum(len(each) for each in explored.done.values())
    return Report(
        scheme,
        model,
        len(explored.came),
        steps,
        deaf,
        tuple(findings),
        slips,
        around,
        distance(around),
    )


def _played(model: Model, on: Situation, finding: Finding, way: Way) -> Finding:
    """Give a finding its keys with times, and whether the running unit does as the model says."""
    keyed, state = replay(model.scheme, on.unit, way)
    return replace(
        finding,
        keys=finding.keys or keyed,
        played=judge.end_of(model, way) is state,
    )


def _hazards(scheme: Scheme, compiled: codes.CompiledScheme) -> Iterator[tuple[Finding, Way]]:
    """What loading refuses: the keys are the knock, and the command's that the fault is in."""
    for kind, find in HAZARDS.items():
        for problem in find(scheme):
            keys = compiled.knock
            if (at := re.match(r"command\[(\d+)\]", problem.path)) is not None:
                keys += word(compiled, int(at[1])).keys
            what = f"{problem.path}: {problem.found}; expected {problem.expected}"
            yield Finding(kind, what), tuple(keys)


def _slips(model: Model, slips: Matrix) -> Iterator[tuple[Finding, Way]]:
    """One finding for each command meant and each kind of slip, with its first example."""
    told: set[tuple[int, str, str]] = set()
    for (command, kind, outcome, start), slip in slips.harm.items():
        if (command, kind, outcome) in told:
            continue
        told.add((command, kind, outcome))
        did = " and ".join(judge.did(model, each) for each in slip.did)
        happened = f"does {did}" if outcome == HARM[0] else "makes the next knock do something else"
        what = (
            f"{kind} key in {start.value}: {slip.keyed} for {slip.meant.keys} "
            f"({judge.name(model, command)}) {happened}"
        )
        finding = Finding(
            "slip" if outcome == HARM[0] else "next-misread",
            what,
            times=slips.count[command, kind, outcome],
        )
        yield finding, judge.way_to(model, start) + tuple(slip.keyed + slip.sequel)


def _two_slips(model: Model, around: tuple[Detour, ...]) -> Iterator[tuple[Finding, Way]]:
    """Where one slip does as much already, two are no news."""
    by_one = {each.meant.did.command for each in around if each.slips == 1}
    for each in around:
        if each.meant.did.command in by_one:
            continue
        if each.slips == 2 and each.risk > TWO_SLIPS_RISK:
            meant = judge.name(model, each.meant.did.command)
            what = (
                f"{each.keyed}, two slips from {each.meant.keys} ({meant}), "
                f"does {judge.did(model, each.did)}: "
                f"once in {1 / each.chance:.0f} dials"
            )
            yield Finding("two-slips", what), tuple(each.keyed)


def _neighbours(scheme: Scheme) -> Iterator[tuple[Finding, Way]]:
    for number, way in knocks.double_answers(scheme):
        what = f"unit {scheme.unit_number} and unit {number} both attend"
        yield Finding("double-answer", what), way


def _nevers(
    scheme: Scheme, model: Model, explored: Explored, on: Situation
) -> Iterator[tuple[Finding, Way]]:
    for each in broken(scheme, model, explored, on.unit):
        never = each.never
        within = f" within {never.within_s:g} s of" if never.within_s else " after"
        rule = f"never {never.does}" + (f"{within} {never.after}" if never.after else "")
        soon = "" if each.after_s is None else f", {each.after_s:g} s after it at the quickest"
        yield Finding("never-broken", f"{rule}: but it can be{soon}", each.keyed), each.way
