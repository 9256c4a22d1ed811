"""The unit's relay contacts: which may be closed together, and how to change from set to set.

Law 1: nothing of the unit's work meets the office. The series contacts are never closed with the
strap, a ground or the changeover's off side. A reply may sound over them: a caller on the line
hears a beep, no more.
Law 2: strap, grounds, sounding contact and off side exclude one another; the two grounds do not.
Law 3: break before make. Everything that opens has had its operate time before anything closes.
"""

from enum import Enum


class Contact(Enum):
    """A contact, named by what it does when it is closed."""

    SERIES = "series"
    """Joins the pair to what is beyond the unit; a resting relay holds it closed."""
    STRAP = "strap"
    TIP_GROUND = "tip-ground"
    RING_GROUND = "ring-ground"
    TONE = "tone"
    """Puts the sounder across the pair, for a reply as for the tone state."""
    OFF_PAIR = "off-pair"
    """A changeover: closed is thrown to its off side, and nothing of the unit is on the pair."""


Closed = frozenset[Contact]

REST: Closed = frozenset({Contact.SERIES})
"""What is left when there is no power."""

_GROUNDS = frozenset({Contact.TIP_GROUND, Contact.RING_GROUND})

# Every illegal set holds one of these pairs, so a subset of a legal set is legal, and so is each
# half-way set of a change that breaks before it makes.
_NEVER_TOGETHER = (
    *((Contact.SERIES, other) for other in (Contact.STRAP, *_GROUNDS, Contact.OFF_PAIR)),
    *((Contact.TONE, other) for other in (Contact.STRAP, *_GROUNDS, Contact.OFF_PAIR)),
    *((Contact.STRAP, other) for other in (*_GROUNDS, Contact.OFF_PAIR)),
    *((Contact.OFF_PAIR, other) for other in _GROUNDS),
)


def legal(closed: Closed) -> bool:
    """Tell whether these contacts may be closed together (laws 1 and 2)."""
    return not any(one in closed and other in closed for one, other in _NEVER_TOGETHER)


def beside_reply(closed: Closed) -> Closed:
    """Return which of these contacts may stay while a reply sounds; the others lift for it."""
    return closed & REST


def change(start: Closed, goal: Closed, operate_us: int) -> tuple[tuple[int, Closed], ...]:
    """Return the way from set to set as (delay from now, what is closed then), break before make.

    No step both opens and closes; where nothing has to open, what closes does so at once.
    """
    kept = start & goal
    opening = ((0, kept),) if kept != start else ()
    closing = ((operate_us if opening else 0, goal),) if kept != goal else ()
    return opening + closing
