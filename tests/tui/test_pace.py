"""Wall time into virtual time, with a clock that the test turns."""

import pytest

from tui.pace import RATES, Pace


class Wall:
    """A clock on the wall that moves by hand."""

    def __init__(self) -> None:
        self.now_s = 100.0

    def __call__(self) -> float:
        return self.now_s


@pytest.fixture
def wall() -> Wall:
    return Wall()


def test_live_time_is_wall_time(wall: Wall) -> None:
    """A quarter of a second is a quarter of a second, once."""
    pace = Pace(wall)
    wall.now_s += 0.25

    assert [pace.take_us(), pace.take_us()] == [250_000, 0]


def test_time_stands_while_paused(wall: Wall) -> None:
    """What passes on the wall during a pause is not made up for afterwards."""
    pace = Pace(wall)
    pace.pause()
    wall.now_s += 0.25
    passed = [pace.take_us()]
    pace.pause()
    wall.now_s += 0.01
    passed.append(pace.take_us())

    assert passed == [0, 10_000]


def test_faster_and_slower_stop_at_the_ends(wall: Wall) -> None:
    """The rates are 1, 4 and 20, and asking beyond them changes nothing."""
    pace = Pace(wall)
    seen = [pace.rate]
    for change in (pace.faster, pace.faster, pace.faster, pace.slower, pace.slower, pace.slower):
        change()
        seen.append(pace.rate)

    assert seen == [1, 4, 20, 20, 4, 1, 1]
    assert RATES == (1, 4, 20)


def test_faster_time_goes_on_after_a_pause(wall: Wall) -> None:
    """Whoever asks for faster time does not want it to stand."""
    pace = Pace(wall)
    pace.pause()
    pace.faster()
    wall.now_s += 0.1

    assert pace.take_us() == 400_000


def test_a_screen_that_slept_has_missed_that_time(wall: Wall) -> None:
    """An hour in a closed lid does not run a hold out."""
    pace = Pace(wall)
    wall.now_s += 3600.0

    assert pace.take_us() == 500_000
