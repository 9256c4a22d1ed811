"""What must hold between neighbours, the block they end at, and the troubles that need them."""

import re
from collections.abc import Iterator
from itertools import pairwise
from typing import get_args

from farend_sim.block import Block
from farend_sim.errors import Problem, once, unknown
from farend_sim.problems.fittings import place
from farend_sim.scenario import Scenario
from line_model.neighbours import leg_of
from line_model.plant import Neighbour, Plant
from line_model.troubles import Conductor, Leak, Split, Trouble
from line_model.troubles.split import UNNAMED

OWN_CONDUCTORS = get_args(Conductor)
NAME = re.compile(r"[A-Za-z][A-Za-z0-9_]*")
TAKEN = (*OWN_CONDUCTORS, UNNAMED, "unit", "beyond", "leads", "office")
"""Words that mean something else already where legs and nodes are named."""


def problems(scenario: Scenario) -> Iterator[Problem]:
    """Every fault of neighbours, block, splits and crosses."""
    for index, one in enumerate(scenario.plant.neighbour):
        path = f"plant.neighbour[{index}]"
        others = scenario.plant.neighbour[:index]
        yield from _name(one, path)
        yield from _open(one, scenario.plant, path)
        yield from _post(one, others, scenario.block, path)
    yield from once("plant.neighbour", (one.name for one in scenario.plant.neighbour))
    if scenario.block is not None:
        yield from _block(scenario.block)
    for index, trouble in enumerate(scenario.trouble):
        yield from _trouble(trouble, scenario, f"trouble[{index}]")
    yield from _overlaps(scenario)


def _name(one: Neighbour, path: str) -> Iterator[Problem]:
    if not NAME.fullmatch(one.name):
        expected = "letters, digits and '_', a letter first: its legs are NAME.tip and NAME.ring"
        yield Problem(f"{path}.name", repr(one.name), expected)
    elif one.name in TAKEN:
        found = f"{one.name!r}, which means something else"
        yield Problem(f"{path}.name", found, f"none of {', '.join(TAKEN)}")


def _open(one: Neighbour, plant: Plant, path: str) -> Iterator[Problem]:
    """An open leg is open somewhere."""
    if one.open_leg is not None and one.open_at_m is None:
        yield Problem(f"{path}.open_leg", repr(one.open_leg), "open_at_m too: where it is open")
    if one.open_at_m is not None:
        if one.open_leg is None:
            yield Problem(f"{path}.open_at_m", f"{one.open_at_m:.9g}", "open_leg too: which one")
        yield from place(plant.length_m, one.open_at_m, f"{path}.open_at_m")


def _post(
    one: Neighbour, others: tuple[Neighbour, ...], block: Block | None, path: str
) -> Iterator[Problem]:
    """A neighbour on a post has it for itself."""
    if one.post is None:
        return
    path = f"{path}.post"
    if block is None:
        yield Problem(path, str(one.post), "a [block] that has posts")
    elif one.post > block.posts:
        yield Problem(path, str(one.post), f"a post of the block, from 1 to {block.posts}")
    elif one.post == block.pair:
        yield Problem(path, f"{one.post}, the pair's own post", "a post of its own")
    elif any(one.post == other.post for other in others):
        yield Problem(path, f"{one.post} again", "a post of its own")


def _block(block: Block) -> Iterator[Problem]:
    for key in ("pair", "record"):
        post = getattr(block, key)
        if post is not None and post > block.posts:
            expected = f"a post of the block, from 1 to {block.posts}"
            yield Problem(f"block.{key}", str(post), expected)


def _trouble(trouble: Trouble, scenario: Scenario, path: str) -> Iterator[Problem]:
    if isinstance(trouble, Leak):
        yield from _leak(trouble, scenario, f"{path}.between")
    if isinstance(trouble, Split) and trouble.neighbour != UNNAMED:
        yield from _known(trouble.neighbour, trouble.neighbour, scenario, f"{path}.neighbour")


def _leak(leak: Leak, scenario: Scenario, path: str) -> Iterator[Problem]:
    """Each end is a conductor of the pair or a neighbour's leg, and one end is the pair's."""
    for index, end in enumerate(leak.between):
        leg = leg_of(end)
        if leg is not None:
            yield from _known(leg[0], end, scenario, f"{path}[{index}]")
        elif end not in OWN_CONDUCTORS:
            expected = "'tip', 'ring' or 'sheath', or a neighbour's leg such as 'NAME.tip'"
            yield unknown(f"{path}[{index}]", end, OWN_CONDUCTORS, expected)
    legs = [leg_of(end) for end in leak.between]
    if any(legs) and not any(end in ("tip", "ring") for end in leak.between):
        yield Problem(path, " and ".join(map(repr, leak.between)), "one of them the pair's own leg")
    if any(legs) and leak.on is not None:
        yield Problem(
            path,
            f"a neighbour's leg, on tap {leak.on!r}",
            "a leg of the pair: neighbours have no taps",
        )


def _known(name: str, typed: str, scenario: Scenario, path: str) -> Iterator[Problem]:
    """A neighbour that a trouble names is there: by its name, or by its post's number."""
    block, plant = scenario.block, scenario.plant
    known = [one.name for one in plant.neighbour] + (list(block.names(plant)) if block else [])
    if name not in known:
        names = ", ".join(one.name for one in plant.neighbour)
        expected = f"a neighbour of the plant: {names or 'it has none'}"
        yield unknown(path, name, known, expected, repr(typed))


def _overlaps(scenario: Scenario) -> Iterator[Problem]:
    """Two splits share no stretch: a leg cannot be with two neighbours."""
    end_m = scenario.plant.length_m
    spans = sorted(
        (trouble.from_m, end_m if trouble.to_m is None else trouble.to_m, index)
        for index, trouble in enumerate(scenario.trouble)
        if isinstance(trouble, Split)
    )
    for (start_m, until_m, first), (from_m, _, second) in pairwise(spans):
        if from_m < until_m:
            found = f"{from_m:.9g}, inside the split of trouble[{first}]"
            expected = f"a place outside {start_m:.9g} to {until_m:.9g} m: splits do not overlap"
            yield Problem(f"trouble[{second}].from_m", found, expected)
