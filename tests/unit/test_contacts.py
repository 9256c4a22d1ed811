"""Which contacts may meet, and that every change breaks before it makes."""

from itertools import chain, combinations, product

import pytest

from farend_sim.unit.contacts import REST, Closed, Contact, beside_reply, change, legal

OPERATE_US = 5000
SETS = [
    frozenset(members)
    for members in chain.from_iterable(combinations(Contact, n) for n in range(len(Contact) + 1))
]
LEGAL = [closed for closed in SETS if legal(closed)]


def test_the_legal_sets_are_these():
    """The whole truth about what may be closed together, spelt out."""
    spelt = {" ".join(sorted(contact.value for contact in closed)) for closed in LEGAL}

    assert spelt == {
        "",
        "series",
        "series tone",  # a reply over idle
        "tone",
        "strap",
        "tip-ground",
        "ring-ground",
        "ring-ground tip-ground",
        "off-pair",
    }


@pytest.mark.parametrize(("start", "goal"), product(LEGAL, LEGAL))
def test_a_change_breaks_before_it_makes(start: Closed, goal: Closed):
    """Between any two legal sets: legal on the way, one direction a step, time in between."""
    way = change(start, goal, OPERATE_US)

    assert ([start] + [closed for _, closed in way])[-1] == goal
    before, opened_us = start, None
    for delay_us, closed in way:
        assert legal(closed)
        assert closed != before
        assert closed < before or before < closed
        assert opened_us is None or delay_us - opened_us >= OPERATE_US
        opened_us = delay_us if closed < before else opened_us
        before = closed


def test_nothing_waits_for_nothing():
    """Where nothing opens, what closes does so at once; where nothing changes, nothing is done."""
    assert ((0, REST | {Contact.TONE}),) == change(REST, REST | {Contact.TONE}, OPERATE_US)
    assert change(REST, REST, OPERATE_US) == ()


@pytest.mark.parametrize("closed", LEGAL)
def test_a_reply_can_sound_from_everywhere(closed: Closed):
    """What may not be closed beside a reply lifts; the office may stay."""
    assert legal(beside_reply(closed) | {Contact.TONE})
