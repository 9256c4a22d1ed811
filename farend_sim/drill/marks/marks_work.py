"""Marks for how it was read, how long it took, how the pair was left, and the logbook."""

from farend_sim.bench import steps as s
from farend_sim.drill.marks.mark import Judged, Mistake, free_of, mark, mistake, yes_or_no
from farend_sim.drill.work.done import Done
from farend_sim.drill.work.story import RESTING, Story
from farend_sim.unit.table import State


@mark(
    "readings at rest",
    "quality",
    4,
    "Read when the reply has been heard and the contact has closed, well before the hold ends; "
    "read again what wandered.",
)
def settled(story: Story) -> Judged | None:
    """Of those that drive the pair: a voltmeter tells of what there is, also while it fades."""
    if not story.driving:
        return None
    kept = [one for one in story.driving if one in story.logged] or story.driving
    spoiled = sum(not one.settled for one in kept)
    told = f"{spoiled} of {len(kept)} readings that were kept had not come to rest"
    yes = "all readings that were kept had come to rest"
    made = tuple(_spoiled(story, one) for one in story.driving if not one.settled)
    return Judged(float(not spoiled), told if spoiled else yes, mistakes=made)


def _spoiled(story: Story, one: Done) -> Mistake:
    before, after = one.before.far.state, one.after.far.state
    if before is State.ATTENTIVE and after is not before:
        why = "it was begun before the contact had closed"
    elif before is not after:
        why = "the hold ran out under it"
    else:
        why = "it had not come to rest"
    believed = ", and was written down" if one in story.logged else ""
    return mistake(one, f"a spoiled reading: {why}{believed}")


@mark(
    "leads zeroed",
    "quality",
    3,
    "`zero` the leads before the first ohms are believed.",
)
def zeroed(story: Story) -> Judged | None:
    ohms = [one for one in story.driving if story.kind(one) == "ohms"]
    if not ohms:
        return None
    zeros = [one for one in story.done if isinstance(one.step, s.Zero) and not one.refused]
    finite = [one for one in ohms if one.row.get("value") is not None]
    early = bool(zeros) and (not finite or zeros[0].at < finite[0].at)
    return yes_or_no(early, "leads taken off first", "the test leads are in the readings")


@mark(
    "both polarities",
    "quality",
    3,
    "Read a leak both ways round, tip-ring and ring-tip: what differs is a cell's work.",
)
def both_ways(story: Story) -> Judged | None:
    if not story.driving or not story.drill.leaks:
        return None
    across = {each.row["across"] for each in story.driving if "across" in each.row}
    both = any("-".join(reversed(one.split("-"))) in across for one in across)
    once = Mistake(None, "one polarity only: wet leakage is a cell too, and reads two ways")
    return free_of([] if both else [once], "read both ways about", "read one way about only")


@mark(
    "within the time",
    "economy",
    3,
    "Do it again against the clock; a hold's wait is the time to reckon in.",
)
def in_time(story: Story) -> Judged | None:
    budget_s = story.drill.lesson.budget_s
    told = f"took {story.took_s / 60:.0f} of {budget_s / 60:.0f} minutes"
    return Judged(min(1.0, max(0.0, 2 - story.took_s / budget_s)), told)


@mark(
    "holds used",
    "economy",
    2,
    "Have the meter chosen before a hold is asked for, and read within it.",
)
def holds_used(story: Story) -> Judged | None:
    begun: list[list[bool]] = []
    for one in story.done:
        before, after = one.before.far, one.after.far
        # a contact may move in one step, and its hold begin in the next
        if after.deadline_us not in (None, before.deadline_us):
            begun.append([])
        if begun and one.row.get("settled") is not None and before.deadline_us is not None:
            begun[-1].append(True)
    if not begun:
        return None
    wasted = sum(not used for used in begun)
    told = f"{wasted} of {len(begun)} holds ran without a reading"
    return Judged(1 - wasted / len(begun), told)


@mark(
    "proved after repair",
    "proof",
    6,
    "After a repair measure again all that was wrong before.",
)
def proved(story: Story) -> Judged | None:
    if not story.drill.lesson.repair:
        return None
    if not story.repairs:
        return Judged(0.0, "nothing was made good")
    left = story.attempt.bench.pair.troubles
    after = [one for one in story.readings if one.at > story.repairs[-1].at]
    tested = any(one.row.get("settled") and story.kind(one) == "ohms" for one in after)
    if left:
        return Judged(0.5, "made good in part: something is still wrong")
    yes, no = "made good, and measured again", "made good, and not measured again"
    return Judged(1.0, yes) if tested else Judged(0.5, no)


@mark(
    "unit at rest",
    "proof",
    4,
    "Wait for the end of the hold, or release it, and hear it said, before you leave.",
)
def at_rest(story: Story) -> Judged | None:
    far = story.last.far
    left = [] if far.state in RESTING else [_left(story, f"the unit's {far.state.value} still")]
    yes, no = "the unit is at rest", f"the unit's {far.state.value} is still on the pair"
    return free_of(left, yes, no)


def _left(story: Story, with_what: str) -> Mistake:
    return Mistake(story.took_s, f"left with {with_what} on the pair")


@mark(
    "line restored",
    "proof",
    3,
    "`restore` is the last thing but one.",
)
def restored(story: Story) -> Judged | None:
    if not story.has_behind:
        return None
    behind = story.scenario.behind.equipment
    lifted = Mistake(story.took_s, f"left with the {behind} lifted: no service")
    made = [lifted] if story.last.lifted else []
    return free_of(made, f"the {behind} is back on", f"the {behind} is still lifted")


@mark(
    "leads off",
    "proof",
    2,
    "`meter off` and `near clear` at the end.",
)
def cleared(story: Story) -> Judged | None:
    on = {"a clip lead": story.last.lead != "clear", "a meter": story.last.meter is not None}
    left = [_left(story, what) for what, is_on in on.items() if is_on]
    return free_of(left, "meter and clip lead are off", "a meter or a clip lead is still on")


@mark(
    "readings written down",
    "record",
    5,
    "`log` each reading that tells, when it is made.",
)
def written(story: Story) -> Judged | None:
    told_by = {one for match in story.matched for one in match.evidence.told_by}
    telling = told_by & set(story.readings)
    readings = telling or set(story.readings)
    if not readings:
        return Judged(0.0, "nothing was written down")
    share = min(1.0, len(readings & story.logged) / min(len(readings), 3))
    told = f"{len(story.logged)} readings written down"
    return Judged(share, told if share == 1 else told + ", and not those that tell")


MARKS = (
    settled, zeroed, both_ways, in_time, holds_used, proved, at_rest, restored, cleared,
    written,
)  # fmt: skip
