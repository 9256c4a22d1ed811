"""The one place that meets the state machine library: it runs the table, and draws it.

Law: no callback, condition or state is given to the library that the table does not hold, and it
is driven by `trigger(name)` only, because its made-up methods have no types.
"""

from typing import Any

from transitions import Machine

from farend_sim.unit.table import HOLDS, TABLE, Action, Input, State


class _Model:
    """What the library hangs its state and trigger on; it must have no names of its own."""

    state: State
    trigger: Any


def _rows() -> list[dict[str, Any]]:
    return [
        {"trigger": given.value, "source": state, "dest": goal}
        for (state, given), (goal, _) in TABLE.items()
    ]


class TableMachine:
    """One unit's place in the table."""

    __slots__ = ("_machine", "_model")

    def __init__(self, initial: State = State.IDLE) -> None:
        self._model = _Model()
        self._machine = Machine(
            model=self._model,
            states=State,
            transitions=_rows(),
            initial=initial,
            auto_transitions=False,
        )

    @property
    def state(self) -> State:
        return self._model.state

    def take(self, given: Input) -> Action:
        """Move to the next state and return what is to be done on the way."""
        _, action = TABLE[self.state, given]
        self._model.trigger(given.value)
        return action


def diagram() -> str:
    """Return the table as mermaid text: what is ignored left out, and all holds drawn as one.

    Drawn state by state it has a hundred arrows, which nobody reads; that all holds answer alike
    is what a test of the table says.
    """
    from transitions.extensions import GraphMachine  # twice the import; only the drawing pays

    model = _Model()
    GraphMachine(
        model=model,
        states=list(dict.fromkeys(_drawn(state) for state in State)),
        transitions=_drawn_rows(),
        initial=State.IDLE.value,
        auto_transitions=False,
        title="The unit",
        graph_engine="mermaid",
    )
    graph = getattr(model, "get_graph")()  # noqa: B009  a method the library makes up
    lines = str(graph.draw(None)).splitlines()
    # The library colours the present state; a drawing in a text has none.
    plain = [line for line in lines if line.split(maxsplit=1)[:1] not in (["classDef"], ["Class"])]
    return "\n".join(line.rstrip() for line in plain if line.strip()) + "\n"


def _drawn(state: State) -> str:
    return "hold" if state in HOLDS else state.value


def _drawn_rows() -> list[dict[str, str]]:
    functions = {Input(hold.value) for hold in HOLDS}
    rows = {
        ("function" if given in functions else given.value, _drawn(state), _drawn(goal)): None
        for (state, given), (goal, action) in TABLE.items()
        if action is not Action.IGNORE
    }
    return [{"trigger": given, "source": state, "dest": goal} for given, state, goal in rows]
