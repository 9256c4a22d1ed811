"""Marks for the answer: kind, leg, ohms, place and what to do, as far as the readings show them."""

from collections.abc import Callable

from farend_sim.bench.answer import NONE, same_resistance
from farend_sim.drill.marks.mark import Judged, mark
from farend_sim.drill.work.story import Matched, Story


def _share(story: Story, of: Callable[[Matched], float]) -> float:
    """The mean over the troubles; answers that fit none of them thin it out."""
    count = max(len(story.matched), len(story.attempt.answers))
    return sum(of(match) for match in story.matched) / count


def _asked(story: Story, part: str) -> bool:
    return part in story.drill.lesson.asks


@mark(
    "right trouble",
    "trouble",
    9,
    "Read the whole survey, also when the first reading seems to say it all: across, each leg "
    "to the sheath, strapped, each leg grounded.",
)
def kind(story: Story) -> Judged | None:
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


@mark(
    "right leg",
    "trouble",
    6,
    "Measure each leg by itself: grounded at the far end one after the other, or each to the "
    "sheath.",
)
def leg(story: Story) -> Judged | None:
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


@mark(
    "right resistance",
    "trouble",
    2,
    "Reckon the trouble's own ohms, the cable's taken off: `locate shunt`, `locate legs`.",
)
def ohm(story: Story) -> Judged | None:
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


@mark(
    "right thing to do",
    "trouble",
    3,
    "Say what is to be done: repair at a place, replace a wet stretch, report foreign volts.",
)
def action(story: Story) -> Judged | None:
    if not _asked(story, "action"):
        return None
    asked = [one for one in story.matched if one.truth.kind != NONE]
    said = [one.answer.action if one.answer else None for one in asked]
    share = sum(a == one.truth.action for a, one in zip(said, asked, strict=True))
    if not asked:
        return None
    right = ", ".join(dict.fromkeys(str(one.truth.action) for one in asked))
    return Judged(share / len(asked), "right" if share == len(asked) else f"it is: {right}")


@mark(
    "right place",
    "place",
    15,
    "Reckon the place with `locate` at the record's temperature, and say within what it is.",
)
def place(story: Story) -> Judged | None:
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
    if off_m > story.drill.within_m:
        return Judged(0.0, f"{off_m:.0f} m off, and {story.drill.within_m:.0f} m is what it may be")
    if "place" not in match.evidence.shown:
        return Judged(0.0, f"{off_m:.0f} m off, but no reading shows where")
    if answer.within_m is None:
        return Judged(0.5, f"{off_m:.0f} m off; how far it may be off was not said")
    stretch_m = truth.within_m or 0.0
    if answer.within_m > 2 * story.drill.within_m + stretch_m:
        return Judged(0.5, f"{off_m:.0f} m off; said so loosely that nobody could dig there")
    if off_m > answer.within_m:
        return Judged(0.5, f"{off_m:.0f} m off, more than the {answer.within_m:.0f} m it was said")
    return Judged(1.0, f"{off_m:.0f} m off, within the {answer.within_m:.0f} m that were said")


MARKS = (kind, leg, ohm, action, place)
