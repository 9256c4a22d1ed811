"""Scheme and unit table as a table for a spreadsheet, and as a picture of states."""

import csv
import io
from itertools import groupby

from farend_sim.scheme_lab.check.explore import explore
from farend_sim.scheme_lab.check.model import Model
from farend_sim.unit import codes
from farend_sim.unit.keying import written
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.table import HOLDS, Action, Input, State

HEAD = (
    "does",
    "keys",
    "state",
    "taken",
    "next_state",
    "action",
    "reply",
    "hold_s",
    "shortest_s",
    "longest_s",
    "keeps_attention",
)


def csv_table(scheme: Scheme) -> str:
    """One line for each command in each state that can attend: what it does there."""
    model = Model(codes.compiled(scheme), scheme.keys)
    out = io.StringIO()
    write = csv.writer(out, lineterminator="\n")
    write.writerow(HEAD)
    for command in scheme.command:
        for state in (State.ATTENTIVE, *HOLDS):
            taken = state.value in command.taken_in
            given = Input(command.does) if taken else Input.REFUSE
            after, action = model.unit.table[state, given]
            write.writerow(
                [
                    command.does,
                    _in_a_cell(written(model.scheme, model.scheme.of(command.does))),
                    state.value,
                    "yes" if taken else "no",
                    after.value,
                    action.value,
                    command.reply if taken else "refused",
                    *(_number(each) for each in (command.hold_s, command.shortest_s)),
                    _number(command.longest_s),
                    "yes" if command.keeps_attention else "no",
                ]
            )
    return out.getvalue()


def _in_a_cell(keys: str) -> str:
    """Keys as text: a spreadsheet would make a number of `07` or a sum of `*`."""
    return " ".join(keys)


def _number(seconds: float | None) -> str:
    return "" if seconds is None else f"{seconds:g}"


def mermaid(scheme: Scheme) -> str:
    """The states that this scheme can bring the unit into, and the keys that do."""
    model = Model(codes.compiled(scheme), scheme.keys)
    keys = {each.input.value: written(model.scheme, each) for each in model.scheme.commands}
    edges = set()
    for at, step in explore(model).steps():
        if step.act is None or step.action is Action.IGNORE:
            continue
        given = step.act.input.value
        label = _spelt(keys[given]) if given in keys else given
        if given == Input.KNOCK.value:
            label = "knock " + _spelt(model.scheme.knock)
        edges.add((_id(at.state), _id(step.to.state), label))
    lines = ["stateDiagram-v2", "  direction LR", f"  [*] --> {_id(State.IDLE)}"]
    lines += [f'  state "{state.value}" as {_id(state)}' for state in State]
    for (start, goal), group in groupby(sorted(edges), key=lambda edge: edge[:2]):
        lines.append(f"  {start} --> {goal}: {' | '.join(edge[2] for edge in group)}")
    return "\n".join(lines) + "\n"


def _id(state: State) -> str:
    return state.value.replace("-", "_")


def _spelt(keys: str) -> str:
    """Keys as Mermaid takes them: its own signs as entities."""
    return keys.replace("#", "#35;").replace("*", "#42;")
