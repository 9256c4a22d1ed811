"""Readings that no place gives, and looks from joints that close in on a stretch."""

from collections.abc import Callable
from math import inf

import pytest

from line_model.worksheet import both_ends, bridge, legs, loop, sections, shunt
from line_model.worksheet import open as by_farads
from line_model.worksheet.band import ImpossibleReadingError
from line_model.worksheet.sections import Look
from tests.line_model.worksheet.plants import MIXED, ONE


def _slide(
    fraction: float, loop: float | None = None, good_ohm: float | None = None
) -> bridge.Hookup:
    return bridge.Hookup(reading=bridge.Slide(fraction=fraction), loop_ohm=loop, good_ohm=good_ohm)


def _dial(dial_ohm: float, loop_ohms: float) -> bridge.Hookup:
    return bridge.Hookup(reading=bridge.Dial(dial_ohm=dial_ohm), loop_ohm=loop_ohms)


def _three(tip_ring: float, tip_ground: float, ring_ground: float) -> legs.Readings:
    return legs.Readings(tip_ring=tip_ring, tip_ground=tip_ground, ring_ground=ring_ground)


@pytest.mark.parametrize(
    ("sum_", "words"),
    [
        (lambda: loop.locate(ONE, 700.0), "past the far end"),
        (lambda: loop.locate(ONE, 1.0, lead_ohm=2.0), "taken off"),
        (lambda: loop.locate(ONE, -300.0), "foreign voltage"),
        (lambda: bridge.locate(ONE, _slide(0.7)), "legs are exchanged"),
        (lambda: bridge.locate(ONE, _dial(700.0, 505.0)), "behind the near end"),
        (lambda: bridge.locate(ONE, _dial(-300.0, 505.0)), "past the far end"),
        (
            lambda: bridge.locate(ONE, _slide(0.2, 100.0, good_ohm=300.0)),
            "more than the whole loop",
        ),
        (lambda: shunt.locate(ONE, 3000.0, 520.0, 505.0), "root would be negative"),
        (lambda: shunt.locate(ONE, 400.0, 450.0, 505.0), "root would be negative"),
        (lambda: by_farads.locate(ONE, 300.0), "past the far end"),
        (lambda: by_farads.locate(ONE, 300.0, test_hz=1000.0), "far past the far end"),
        (lambda: by_farads.locate(ONE, 5.0, unit_nf=10.0), "not on this side of the open"),
        (lambda: both_ends.locate_open(ONE, 0.0, 0.0), "none from either end"),
        (lambda: both_ends.locate_short(ONE, 100.0, 100.0), "less than the loop"),
        (lambda: legs.locate(ONE, _three(100.0, 300.0, 50.0)), "less than nothing"),
        (lambda: legs.locate(ONE, _three(900.0, 500.0, 500.0)), "both legs hold resistance"),
    ],
)
def test_impossible_readings_are_told_why(sum_: Callable[[], object], words: str) -> None:
    """No place is made up for readings that no place gives."""
    with pytest.raises(ImpossibleReadingError, match=words):
        sum_()


def look(at_m: float, toward: str, ohm: float) -> Look:
    return Look(at_m=at_m, toward="near" if toward == "near" else "far", ohm=ohm)


@pytest.mark.parametrize(
    ("looks", "stretches", "next_m"),
    [
        ([look(0, "far", 4e4)], [(0.0, 2200.0, True)], 1200.0),
        ([look(0, "far", inf)], [], None),
        ([look(0, "far", 4e4), look(1200, "far", inf)], [(0.0, 1200.0, True)], None),
        ([look(1200, "near", inf), look(1200, "far", 4e4)], [(1200.0, 2200.0, True)], 1900.0),
        (
            [look(0, "far", 4e4), look(1200, "near", inf), look(1900, "far", inf)],
            [(1200.0, 1900.0, True)],
            None,
        ),
        (
            [look(1200, "near", 1e5), look(1200, "far", 4e4)],
            [(0.0, 1200.0, True), (1200.0, 2200.0, True)],
            1900.0,
        ),
        (
            [look(0, "far", 4e4), look(1900, "far", inf), look(1200, "far", 4e4)],
            [(0.0, 1200.0, False), (1200.0, 1900.0, True)],
            None,
        ),
    ],
)
def test_looks_close_in(
    looks: list[Look], stretches: list[tuple[float, float, bool]], next_m: float | None
) -> None:
    """Good looks clear, bad looks hold; where one stretch alone is left, it holds the trouble."""
    answer = sections.locate(MIXED, tuple(looks))

    assert stretches == [(each.from_m, each.to_m, each.holds) for each in answer.stretches]
    assert next_m == answer.next_m


def test_looks_that_contradict_each_other() -> None:
    """A bad look into what good looks cleared is trouble that comes and goes."""
    looks = (look(0, "far", 4e4), look(1200, "near", inf), look(1200, "far", inf))

    with pytest.raises(ImpossibleReadingError, match="comes and goes"):
        sections.locate(MIXED, looks)


def test_a_long_view_may_read_less() -> None:
    """400 Mohm are good over 2.2 km and bad over 300 m: a long look clears no leak so weak."""
    answer = sections.locate(MIXED, (look(0, "far", 4e8), look(1900, "far", 4e8)))

    assert [each.good for each in answer.looks] == [True, False]
    assert [(each.from_m, each.to_m, each.holds) for each in answer.stretches] == [
        (1900.0, 2200.0, True)
    ]
