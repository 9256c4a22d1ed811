"""Marks for what could have hurt somebody, and for the proof that it is the right pair."""

from collections.abc import Iterable, Iterator

from farend_sim.bench import steps as s
from farend_sim.drill.marks.mark import Judged, Mistake, free_of, mark, mistake, yes_or_no
from farend_sim.drill.work.done import Done
from farend_sim.drill.work.story import THREE_PAIRS, Story


def _foreign(story: Story, kind: str, name: str) -> Judged | None:
    if kind not in story.kinds:
        return None
    looked = story.looked_for_volts(kind)
    wanted = {tuple(sorted(pair)) for pair in THREE_PAIRS}
    missing = ["-".join(pair) for pair in THREE_PAIRS if tuple(sorted(pair)) not in looked]
    if wanted <= looked:
        return Judged(1.0, f"{name} looked for on all three pairs of terminals first")
    told = f"{name} not looked for across {', '.join(missing)}"
    if any(story.kind(one) == kind and story.behind_on(one) for one in story.readings):
        told += f" with the {story.scenario.behind.equipment} lifted, whose own volts hide it,"
    if story.driving:
        told += f" before {story.driving[0].row['meter']}"
    # Who stopped after what was found already has done nothing dangerous.
    stopped = bool(looked) and not story.driving
    return Judged(len(wanted & looked) / len(wanted), told, fails=not stopped)


@mark(
    "foreign DC first",
    "safety",
    6,
    "Before any other meter: volts across tip-ring, tip-sheath and ring-sheath, each time.",
)
def foreign_dc(story: Story) -> Judged | None:
    return _foreign(story, "volts", "foreign DC")


@mark(
    "foreign AC first",
    "safety",
    5,
    "Before any other meter: AC volts across the same three, each time.",
)
def foreign_ac(story: Story) -> Judged | None:
    return _foreign(story, "ac-volts", "foreign AC")


@mark(
    "lifted before test",
    "safety",
    5,
    "Make `lift` the first thing done wherever an office or a telephone is behind the pair.",
)
def lifted(story: Story) -> Judged | None:
    if not story.has_behind or not story.driving:
        return None
    behind = story.scenario.behind.equipment
    late = [one for one in story.driving if story.behind_on(one)]
    made = [mistake(one, f"{one.row['meter']} with the {behind} not lifted") for one in late]
    no = f"not lifted before {late[0].row['meter']}" if late else ""
    return free_of(made, "lifted before it was driven", no, hard=True)


@mark(
    "stopped and reported",
    "safety",
    4,
    "Over foreign volts do nothing more: meter off, `answer ... action=report`, hand in.",
)
def stopped(story: Story) -> Judged | None:
    """Over foreign voltage there is one right thing to do: stop, back off, report."""
    if not any(one.kind == "battery" for one in story.drill.truth):
        return None
    on = "on a pair that carries foreign battery"
    made = [mistake(one, f"{one.row['meter']} {on}") for one in story.driving]
    yes, no = "stopped at the foreign voltage", "went on with a meter that drives the pair"
    return free_of(made, yes, no, hard=True)


@mark(
    "bonded before opened",
    "safety",
    4,
    "`bond` across the sheath before every `open-joint`.",
)
def bonded(story: Story) -> Judged | None:
    opened = [one for one in story.done if isinstance(one.step, s.OpenJoint)]
    if all(one.refused for one in opened):
        return None
    yes = "bonded across before a sheath was opened"
    no = "a sheath was opened before it was bonded across"
    return free_of(_cautioned(opened, "a sheath opened"), yes, no, hard=True)


def _cautioned(done: Iterable[Done], what: str) -> Iterator[Mistake]:
    """Mistakes that the bench itself warned of."""
    for one in done:
        if "caution" in one.row:
            yield mistake(one, f"{what}: {one.row['caution']}")


@mark(
    "ground first on, last off",
    "safety",
    4,
    "Unit off the pair first, then `unit ground off`; `unit ground on` before `unit clip`.",
)
def grounded_first(story: Story) -> Judged | None:
    """A helper who clips all of the unit on or off does it rightly: the order shows in parts."""
    clipped = [
        one
        for one in story.done
        if isinstance(one.step, s.UnitClip | s.UnitUnclip | s.UnitGround) and not one.refused
    ]
    if not clipped:
        return None
    yes = "the unit's ground lead first on, last off"
    no = "the unit's legs were on the pair while its ground lead went on or off"
    return free_of(_cautioned(clipped, "the unit's clips"), yes, no, hard=True)


@mark(
    "tone on both legs",
    "identity",
    4,
    "Have the unit sound its tone, and probe both legs of the post before a meter goes on.",
)
def both_legs(story: Story) -> Judged | None:
    """Tone on both legs of the pair's own post, before anything drives it."""
    if story.scenario.block is None:
        return None
    heard = {
        one.step.leg
        for one in story.done[: story.first_driven]
        if isinstance(one.step, s.Probe)
        and one.step.post == story.scenario.block.pair
        and one.row.get("sounds")
    }
    missing = [leg for leg in ("tip", "ring") if leg not in heard]
    no = f"no tone was heard on {' and '.join(missing)} of its post first"
    return Judged((2 - len(missing)) / 2, no if missing else "tone heard on both legs of its post")


@mark(
    "pinched",
    "identity",
    3,
    "Pinch the post while its tone sounds: the right pair's tone dies, and no neighbour's does.",
)
def pinched(story: Story) -> Judged | None:
    if story.scenario.block is None:
        return None
    done = any(
        isinstance(one.step, s.Pinch) and one.step.post == story.scenario.block.pair
        for one in story.done[: story.first_driven]
        if not one.refused
    )
    return yes_or_no(done, "proved by a pinch", "not proved by a pinch")


@mark(
    "no other pair driven",
    "identity",
    3,
    "Clip no meter but a voltmeter to a post that tone and pinch have not proved.",
)
def own_pair(story: Story) -> Judged | None:
    if story.scenario.block is None or not story.driving:
        return None
    others = [one for one in story.driving if not story.on_own_pair(one)]
    made = [mistake(one, f"{one.row['meter']} on another pair than the ticket's") for one in others]
    yes, no = "no other pair was driven", "another pair was driven by a meter"
    return free_of(made, yes, no, hard=True)


MARKS = (
    foreign_dc, foreign_ac, lifted, stopped, bonded, grounded_first, both_legs, pinched,
    own_pair,
)  # fmt: skip
