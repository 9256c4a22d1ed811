"""The check's report as plain data for JSON: findings with keys, the slip matrix, the distance."""

from typing import Any

from farend_sim.bench.line_report import BY_LEVEL_ALONE
from farend_sim.scheme_lab.check import judge
from farend_sim.scheme_lab.check.check import Report
from farend_sim.scheme_lab.check.finding import Finding
from farend_sim.scheme_lab.check.slip_matrix import KINDS, OUTCOMES
from farend_sim.unit.table import State


def report_json(report: Report) -> dict[str, Any]:
    """Everything that the check found and looked at."""
    made = report.matrix
    return {
        "title": report.scheme.title,
        "good": not report.bad,
        "findings": [_finding(each) for each in report.findings],
        "moments": report.moments,
        "steps": report.steps,
        "deaf": {state.value: why for state, why in report.deaf.items()},
        "hears": {
            state: how for state, how in BY_LEVEL_ALONE.items() if State(state) not in report.deaf
        },
        "slips": {
            "played": made.slips,
            "harmful": made.harmful,
            "arguments_played": report.arguments,
            "arguments": report.all_arguments,
            "matrix": [
                {
                    "meant": judge.name(report.model, command),
                    "slip": kind,
                    **_row(report, command, kind),
                }
                for command in range(len(report.model.scheme.commands))
                for kind in KINDS
            ],
            "instead": [
                {
                    "meant": judge.name(report.model, meant),
                    "did": judge.name(report.model, did),
                    "slips": count,
                }
                for (meant, did), count in sorted(made.instead.items())
            ],
        },
        "distance": report.distance,
        "detours": [
            {
                "meant": judge.name(report.model, each.meant.did.command),
                "meant_keys": each.meant.keys,
                "keyed": each.keyed,
                "did": judge.did(report.model, each.did),
                "slips": each.slips,
                "chance": each.chance,
                "price": each.price,
            }
            for each in report.detours
        ],
    }


def _row(report: Report, command: int, kind: str) -> dict[str, int]:
    count = report.matrix.count
    return {outcome.replace(" ", "_"): count[command, kind, outcome] for outcome in OUTCOMES}


def _finding(finding: Finding) -> dict[str, Any]:
    return {
        "kind": finding.kind,
        "severity": finding.severity,
        "what": finding.what,
        "do": finding.do,
        "times": finding.times,
        "keys": [{"t_s": each.t_s, "what": each.what} for each in finding.keys],
        "played": finding.played,
    }
