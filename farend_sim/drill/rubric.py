"""The marks of a drill: a row a mark, a hundred in all, and what each is given for.

A mark is judged from what was done and from nothing else. What a drill cannot ask (no block,
nothing behind the near end) is left out, and the rest is scaled to a hundred. The weights are
common practice among trainers, no source; how they are split within a group is invented here.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from farend_sim.bench import steps as s
from farend_sim.drill.answer import NONE, same_resistance
from farend_sim.drill.slips import reversed_somewhere
from farend_sim.drill.story import RESTING, THREE_PAIRS, Matched, Story

Group = Literal["safety", "identity", "trouble", "place", "quality", "economy", "proof", "record"]


@dataclass(frozen=True, slots=True)
class Judged:
    """What came of a mark: how much of it, why, and whether it alone fails the drill."""

    share: float
    why: str
    fails: bool = False


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark; a judgement of None says that the drill does not ask for it."""

    name: str
    group: Group
    points: float
    judge: Callable[[Story], Judged | None]


def _yes(is_so: bool, yes: str, no: str, *, hard: bool = False) -> Judged:
    return Judged(1.0, yes) if is_so else Judged(0.0, no, fails=hard)


# -- safety ------------------------------------------------------------------------------------


def _foreign(story: Story, kind: str, name: str) -> Judged | None:
    if kind not in story.kinds:
        return None
    looked = story.looked_for_volts(kind)
    wanted = {tuple(sorted(pair)) for pair in THREE_PAIRS}
    missing = ["-".join(pair) for pair in THREE_PAIRS if tuple(sorted(pair)) not in looked]
    if wanted <= looked:
        return Judged(1.0, f"{name} looked for on all three pairs of terminals first")
    told = f"{name} not looked for across {', '.join(missing)}"
    if story.driving:
        told += f" before {story.driving[0].row['meter']}"
    # Who stopped after what was found already has done nothing dangerous.
    stopped = bool(looked) and not story.driving
    return Judged(len(wanted & looked) / len(wanted), told, fails=not stopped)


def _foreign_dc(story: Story) -> Judged | None:
    return _foreign(story, "volts", "foreign DC")


def _foreign_ac(story: Story) -> Judged | None:
    return _foreign(story, "ac-volts", "foreign AC")


def _lifted(story: Story) -> Judged | None:
    if not story.has_behind or not story.driving:
        return None
    late = next((one for one in story.driving if story.behind_on(one)), None)
    no = "" if late is None else f"not lifted before {late.row['meter']}"
    return _yes(late is None, "lifted before it was driven", no, hard=True)


def _stopped(story: Story) -> Judged | None:
    """Over foreign voltage there is one right thing to do: stop, back off, report."""
    if not any(one.kind == "battery" for one in story.drill.truth):
        return None
    yes, no = "stopped at the foreign voltage", "went on with a meter that drives the pair"
    return _yes(not story.driving, yes, no, hard=True)


def _bonded(story: Story) -> Judged | None:
    opened = [one for one in story.done if isinstance(one.step, s.OpenJoint)]
    if not any("refused" not in one.row for one in opened):
        return None
    unbonded = any("caution" in one.row for one in opened)
    no = "a sheath was opened before it was bonded across"
    return _yes(not unbonded, "bonded across before a sheath was opened", no, hard=True)


# -- identity ----------------------------------------------------------------------------------


def _both_legs(story: Story) -> Judged | None:
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


def _pinched(story: Story) -> Judged | None:
    if story.scenario.block is None:
        return None
    done = any(
        isinstance(one.step, s.Pinch) and one.step.post == story.scenario.block.pair
        for one in story.done[: story.first_driven]
        if "refused" not in one.row
    )
    return _yes(done, "proved by a pinch", "not proved by a pinch")


def _own_pair(story: Story) -> Judged | None:
    if story.scenario.block is None or not story.driving:
        return None
    own = all(story.on_own_pair(one) for one in story.driving)
    return _yes(own, "no other pair was driven", "another pair was driven by a meter", hard=True)


# -- the trouble -------------------------------------------------------------------------------


def _share(story: Story, of: Callable[[Matched], float]) -> float:
    """The mean over the troubles; answers that fit none of them thin it out."""
    count = max(len(story.matched), len(story.attempt.answers))
    return sum(of(match) for match in story.matched) / count


def _asked(story: Story, part: str) -> bool:
    return part in story.drill.lesson.asks


def _kind(story: Story) -> Judged | None:
    if not story.attempt.answers:
        return Judged(0.0, "nothing was answered", fails=True)
    if any(match.answer is None for match in story.matched):
        return Judged(_share(story, _kind_share), "not all that is wrong was found", fails=True)
    if len(story.attempt.answers) > len(story.matched):
        return Judged(_share(story, _kind_share), "more was answered than is wrong", fails=True)
    missed = [name for match in story.matched for name in match.missed]
    if missed:
        told = "right, but the readings would have missed " + ", ".join(missed)
        return Judged(_share(story, _kind_share), told, fails=True)
    if any("kind" not in match.evidence.shown for match in story.matched):
        told = "right, but no reading that came to rest shows it"
        return Judged(_share(story, _kind_share), told, fails=True)
    return Judged(1.0, "right, and the readings show it")


def _kind_share(match: Matched) -> float:
    is_shown = "kind" in match.evidence.shown and not match.missed
    return float(match.answer is not None and is_shown)


def _leg(story: Story) -> Judged | None:
    if not _asked(story, "leg") or not any(match.truth.leg for match in story.matched):
        return None
    share = _share(story, _leg_share)
    if share == 1.0:
        return Judged(1.0, "right, and the readings show it")
    wrong = any(one.answer is not None and one.answer.leg != one.truth.leg for one in story.matched)
    no = "wrong, or not said" if wrong else "the readings do not tell one leg from the other"
    return Judged(share, no, fails=True)


def _leg_share(match: Matched) -> float:
    answer, truth = match.answer, match.truth
    is_right = answer is not None and answer.leg == truth.leg
    return float(is_right and (not truth.leg or "leg" in match.evidence.shown))


def _ohm(story: Story) -> Judged | None:
    asked = [one for one in story.matched if one.truth.ohm is not None]
    if not _asked(story, "ohm") or not asked:
        return None
    share = sum(map(_ohm_share, asked)) / len(asked)
    return Judged(share, "of the right class" if share == 1.0 else "not said, wrong, or not shown")


def _ohm_share(match: Matched) -> float:
    answer, truth = match.answer, match.truth
    if answer is None or answer.ohm is None or truth.ohm is None:
        return 0.0
    return float(same_resistance(answer.ohm, truth.ohm) and "ohm" in match.evidence.shown)


def _action(story: Story) -> Judged | None:
    if not _asked(story, "action"):
        return None
    asked = [one for one in story.matched if one.truth.kind != NONE]
    said = [one.answer.action if one.answer else None for one in asked]
    share = sum(a == one.truth.action for a, one in zip(said, asked, strict=True))
    if not asked:
        return None
    right = ", ".join(dict.fromkeys(str(one.truth.action) for one in asked))
    return Judged(share / len(asked), "right" if share == len(asked) else f"it is: {right}")


def _place(story: Story) -> Judged | None:
    asked = [one for one in story.matched if one.truth.at_m is not None]
    if not _asked(story, "place") or not asked:
        return None
    found = [_placed(story, one) for one in asked]
    return Judged(sum(one.share for one in found) / len(found), "; ".join(one.why for one in found))


def _placed(story: Story, match: Matched) -> Judged:
    answer, truth = match.answer, match.truth
    if answer is None or answer.at_m is None or truth.at_m is None:
        return Judged(0.0, "no place was said")
    off_m = max(0.0, abs(answer.at_m - truth.at_m) - (truth.within_m or 0.0))
    if off_m > story.within_m:
        return Judged(0.0, f"{off_m:.0f} m off, and {story.within_m:.0f} m is what it may be")
    if "place" not in match.evidence.shown:
        return Judged(0.0, f"{off_m:.0f} m off, but no reading shows where")
    if answer.within_m is None:
        return Judged(0.5, f"{off_m:.0f} m off; how far it may be off was not said")
    stretch_m = truth.within_m or 0.0
    if answer.within_m > 2 * story.within_m + stretch_m:
        return Judged(0.5, f"{off_m:.0f} m off; said so loosely that nobody could dig there")
    if off_m > answer.within_m:
        return Judged(0.5, f"{off_m:.0f} m off, more than the {answer.within_m:.0f} m it was said")
    return Judged(1.0, f"{off_m:.0f} m off, within the {answer.within_m:.0f} m that were said")


# -- how it was read ---------------------------------------------------------------------------


def _settled(story: Story) -> Judged | None:
    """Of those that drive the pair: a voltmeter tells of what there is, also while it fades."""
    if not story.driving:
        return None
    logged = [one for at, one in enumerate(story.done) if at in story.logged]
    kept = [one for one in logged if one in story.driving] or story.driving
    spoiled = sum(not one.row.get("settled") for one in kept)
    told = f"{spoiled} of {len(kept)} readings that were kept had not come to rest"
    return _yes(not spoiled, "all readings that were kept had come to rest", told)


def _zeroed(story: Story) -> Judged | None:
    ohms = [story.done.index(one) for one in story.driving if story.kind(one) == "ohms"]
    if not ohms:
        return None
    zeroed = [
        at
        for at, one in enumerate(story.done)
        if isinstance(one.step, s.Zero) and "refused" not in one.row
    ]
    finite = [at for at in ohms if story.done[at].row.get("value") is not None]
    early = bool(zeroed) and all(min(zeroed) < at for at in finite[:1])
    return _yes(early, "leads taken off first", "the test leads are in the readings")


def _both_ways(story: Story) -> Judged | None:
    if not story.driving or not any(one.kind in ("leak", "wet") for one in story.drill.truth):
        return None
    return _yes(reversed_somewhere(story), "read both ways about", "read one way about only")


def _in_time(story: Story) -> Judged | None:
    budget_s = story.drill.lesson.budget_s
    told = f"took {story.took_s / 60:.0f} of {budget_s / 60:.0f} minutes"
    return Judged(min(1.0, max(0.0, 2 - story.took_s / budget_s)), told)


def _holds_used(story: Story) -> Judged | None:
    begun: list[list[bool]] = []
    for one in story.done:
        before, after = one.before.far, one.after.far
        if after.deadline_us is not None and after.state is not before.state:
            begun.append([])
        if begun and one.row.get("settled") is not None and before.deadline_us is not None:
            begun[-1].append(True)
    if not begun:
        return None
    wasted = sum(not used for used in begun)
    told = f"{wasted} of {len(begun)} holds ran without a reading"
    return Judged(1 - wasted / len(begun), told)


# -- the end -----------------------------------------------------------------------------------


def _proved(story: Story) -> Judged | None:
    if not story.drill.lesson.repair:
        return None
    if not story.repairs:
        return Judged(0.0, "nothing was made good")
    left = story.attempt.bench.pair.troubles
    after = [one for one in story.readings if story.done.index(one) > story.repairs[-1]]
    tested = any(one.row.get("settled") and story.kind(one) == "ohms" for one in after)
    if left:
        return Judged(0.5, "made good in part: something is still wrong")
    yes, no = "made good, and measured again", "made good, and not measured again"
    return Judged(1.0, yes) if tested else Judged(0.5, no)


def _at_rest(story: Story) -> Judged | None:
    far = story.last.far
    yes, no = "the unit is at rest", f"the unit's {far.state.value} is still on the pair"
    return _yes(far.state in RESTING, yes, no)


def _restored(story: Story) -> Judged | None:
    if not story.has_behind:
        return None
    behind = story.scenario.behind.equipment
    return _yes(not story.last.lifted, f"the {behind} is back on", f"the {behind} is still lifted")


def _cleared(story: Story) -> Judged | None:
    is_clear = story.last.meter is None and story.last.lead == "clear"
    return _yes(is_clear, "meter and clip lead are off", "a meter or a clip lead is still on")


def _written(story: Story) -> Judged | None:
    made = {story.done.index(one) for one in story.readings}
    telling = {at for match in story.matched for at in match.evidence.readings} & made
    readings = telling or made
    if not readings:
        return Judged(0.0, "nothing was written down")
    share = min(1.0, len(readings & story.logged) / min(len(readings), 3))
    told = f"{len(story.logged)} readings written down"
    return Judged(share, told if share == 1 else told + ", and not those that tell")


MARKS: tuple[Mark, ...] = (
    Mark("foreign DC first", "safety", 6, _foreign_dc),
    Mark("foreign AC first", "safety", 5, _foreign_ac),
    Mark("lifted before test", "safety", 5, _lifted),
    Mark("stopped and reported", "safety", 4, _stopped),
    Mark("bonded before opened", "safety", 4, _bonded),
    Mark("tone on both legs", "identity", 4, _both_legs),
    Mark("pinched", "identity", 3, _pinched),
    Mark("no other pair driven", "identity", 3, _own_pair),
    Mark("right trouble", "trouble", 9, _kind),
    Mark("right leg", "trouble", 6, _leg),
    Mark("right resistance", "trouble", 2, _ohm),
    Mark("right thing to do", "trouble", 3, _action),
    Mark("right place", "place", 15, _place),
    Mark("readings at rest", "quality", 4, _settled),
    Mark("leads zeroed", "quality", 3, _zeroed),
    Mark("both polarities", "quality", 3, _both_ways),
    Mark("within the time", "economy", 3, _in_time),
    Mark("holds used", "economy", 2, _holds_used),
    Mark("proved after repair", "proof", 6, _proved),
    Mark("unit at rest", "proof", 4, _at_rest),
    Mark("line restored", "proof", 3, _restored),
    Mark("leads off", "proof", 2, _cleared),
    Mark("readings written down", "record", 5, _written),
)
"""All marks. A group's are not all asked of one drill: each group is scaled to its weight."""

WEIGHTS: dict[Group, float] = {
    "safety": 20,
    "identity": 10,
    "trouble": 20,
    "place": 15,
    "quality": 10,
    "economy": 5,
    "proof": 15,
    "record": 5,
}
"""What each group weighs of a hundred. Common practice among trainers, no source."""
