"""What the panels are given: pure functions from a snapshot to text."""

from dataclasses import replace
from pathlib import Path

import pytest

from farend_sim.bench.levels import ReceiverLevel
from farend_sim.control.ear import Heard
from farend_sim.scheme_lab.export.card import card
from tests.tui.at_bench import dial, read_loop, sit_down
from tui.help_text import bench_help
from tui.pace import Pace
from tui.panels.code_card import commands
from tui.panels.hung import hung
from tui.person.heard_list import Listed
from tui.person.sitting import Sitting
from tui.views import view, view_meter
from tui.views.frame import trainee, trainer
from tui.views.sound_trace import drawn


@pytest.fixture
def sitting(tmp_path: Path) -> Sitting:
    return sit_down(tmp_path)


def face(sitting: Sitting, feet: bool = False) -> view_meter.MeterView:
    sitting.feet = feet
    return trainee(sitting, Pace(lambda: 0.0)).meter


@pytest.mark.parametrize(
    ("now_us", "rate", "paused", "expected"),
    [
        (0, 1, False, view.ClockView("0:00:00.0", "> live")),
        (59_999_999, 4, False, view.ClockView("0:00:59.9", ">> 4 times")),
        (3_661_500_000, 20, True, view.ClockView("1:01:01.5", "|| paused")),
    ],
)
def test_clock(now_us: int, rate: int, paused: bool, expected: view.ClockView) -> None:
    """Time is cut, never rounded up; pace has a sign and a word."""
    assert view.clock(now_us, rate, paused) == expected


def test_no_meter(sitting: Sitting) -> None:
    """Without a meter the face says so, and nothing else."""
    assert face(sitting) == view_meter.MeterView(
        "none clipped", "", "", "no meter on the pair", "", "", "", "", ""
    )


def test_a_cycle_under_way(sitting: Sitting) -> None:
    """A cycle is told by stage and by a bar, each stage a quarter of it."""
    sitting.clip("ohms", "tip-ring")
    sitting.read()
    seen = []
    for _ in range(5):
        seen.append((face(sitting).stage, face(sitting).bar.count("\u25b0"), face(sitting).words))
        sitting.advance(750_000)

    assert seen == [
        ("1 of 4: hands on it", 0, "reading ..."),
        ("1 of 4: hands on it", 2, "reading ..."),
        ("2 of 4: finding its range", 5, "reading ..."),
        ("2 of 4: finding its range", 9, "reading ..."),
        ("2 of 4: finding its range", 8, "reading ..."),
    ]


def test_the_loop_in_metres_and_feet(sitting: Sitting) -> None:
    """468 ohm by the gauges and the temperature of this cable is 2461 m."""
    read_loop(sitting)

    assert face(sitting) == view_meter.MeterView(
        "ohms", "tip-ring", "468.0", "", "ohm", "", "at rest", "at 7.9 s", "loop: 2461 m"
    )
    assert face(sitting, feet=True).loop == "loop: 8073 ft"


def test_a_reading_of_other_terminals_is_not_shown(sitting: Sitting) -> None:
    """Once the leads are moved, the display is empty."""
    read_loop(sitting)
    sitting.clip_across("tip-sheath")

    assert (face(sitting).big, face(sitting).words) == ("", "- - - -")


def test_a_display_that_wanders_tells_no_length(sitting: Sitting) -> None:
    """What does not stand still is shown as two ends, with a word, and is no loop."""
    read_loop(sitting)
    snapshot = sitting.bench.snapshot()
    assert snapshot.reading is not None
    wandering = replace(snapshot.reading, shown="467.1 .. over")

    shown = view_meter.meter(
        replace(snapshot, reading=wandering), sitting.places_m(wandering), False
    )

    assert (shown.big, shown.words, shown.loop) == ("", "~ 467.1 .. over ~ wanders", "")


def test_keyed_strings_are_parted_by_pauses(sitting: Sitting) -> None:
    """What was keyed after a pause stands apart; what waits is told."""
    dial(sitting, "#*27")
    dial(sitting, "18*", then_s=0.1)

    shown = trainee(sitting, Pace(lambda: 0.0)).keypad
    assert shown == view.KeypadView("1", "#*27 18*", "8*")


def test_what_was_taken_off_or_back_is_told_so(sitting: Sitting) -> None:
    """A unit off the pair has no clips as marked, and an answer that is dropped does not stand."""
    sitting.do("unit unclip")
    panel = trainee(sitting, Pace(lambda: 0.0)).helper
    sitting.do("answer drop")

    assert view.HelperView(clips="off the pair", ground="off", battery="in") == panel
    assert sitting.said == "What was answered is taken back."


def test_a_reply_is_drawn_by_its_rise_and_fall() -> None:
    """High tones stand high, a pause is a gap; the words give frequencies and lengths."""
    rising = Heard("reply", "550 Hz 90 ms, pause 60 ms, 1080 Hz 90 ms", 12.34, -7.4)

    assert view.sound(Listed(rising, 12.34), 815.0) == view.SoundView(
        "12.3 s",
        "reply",
        "\u2824\u2824 \u2809\u2809",
        "550 Hz 90 ms, pause 60 ms, 1080 Hz 90 ms",
        "-7 dBm",
    )


def test_trace() -> None:
    """Two moments a cell, newest at the right; silence is one dot, the top of the scale all."""
    assert drawn([-60.0, -60.0, 6.0, 6.0], 3, 2, -60.0, 6.0) == [
        "\u2800\u2800\u28ff",
        "\u2800\u28c0\u28ff",
    ]


def test_the_trace_follows_the_keys(sitting: Sitting) -> None:
    """The own keys stand out of the noise, and only while they sound."""
    dial(sitting, "5", then_s=0.24)

    assert [level_dbm > -10 for level_dbm in sitting.trace] == [True, False, False]


def test_the_panel_has_the_keys_of_the_printed_card(sitting: Sitting) -> None:
    """Every command stands on both alike; one that is confirmed says twice on both."""
    scheme = sitting.situation.scheme
    command = tuple(replace(each, confirmed=each.does == "strap") for each in scheme.command)
    confirming = replace(scheme, command=command)
    printed = [line.rstrip().split("  ")[0] for line in card(confirming).splitlines()]

    keys = {does: keys for keys, does in commands(confirming)}
    assert (keys["strap"], keys["set-hold"]) == ("18* twice", "85sssc*")
    assert {keys[each.does] for each in command} <= set(printed)


def test_the_card_spells_holds_out(sitting: Sitting) -> None:
    """Whoever sets a hold finds its check digit on the card; the unit takes it."""
    lines = bench_help(sitting.situation.scheme, "").plain.splitlines()
    keys = next(line.split()[0] for line in lines if line.endswith("hold of 30 s"))
    dial(sitting, "#*27")
    dial(sitting, keys)
    dial(sitting, "18*")

    far = trainer(sitting, ReceiverLevel())
    assert (keys, far.state) == ("850308*", "strap")
    assert 25.0 < float(far.deadline.split()[0]) < 30.0


def test_the_far_end(sitting: Sitting) -> None:
    """The trainer sees state, contacts, deadline, and each tone against the floor."""
    read_loop(sitting)
    far = trainer(sitting, ReceiverLevel())

    assert (far.state, far.closed, far.deadline, far.waits) == (
        "strap",
        "strap",
        "53.9 s left",
        "a knock",
    )
    assert far.low.words.splitlines()[0] == " 697 Hz  -82.6 (-43)"
    assert far.low.bars.splitlines()[0] == "━┈┈┈┈┼┈┈┈┈"
    assert far.verdict == ("deaf to the keypad: 697 Hz at -82.6 dBm is below the floor of -40 dBm")


def test_a_lasting_sound_is_told_over(tmp_path: Path) -> None:
    """Dial tone is one line while it sounds, and says when it stopped once the loop is off."""
    sitting = sit_down(tmp_path, "into-dial-tone")
    sitting.do("near loop")
    told = []
    for do in (None, "near clear", None, "near loop"):
        if do is not None:
            sitting.do(do)
        for _ in range(200):
            sitting.advance(40_000)
        sounds = trainee(sitting, Pace(lambda: 0.0)).sounds
        told.append([one.pattern for one in sounds if one.what == "dial"])

    steady, over = "350 Hz and 440 Hz, steady", "350 Hz and 440 Hz, steady; over at 8.0 s"
    assert told == [[steady], [over], [over], [steady, over]]


def test_wrapped_lines_go_on_under_their_words() -> None:
    """A column of times or marks stays free; a line that fits, or a figure, is left as it is."""
    row = "    12.0 s  meter volts tip-ring across"
    mark = "   5.6 of 16.8  foreign DC first"
    plain = "no columns here, only many words"

    assert hung(row, 26) == "    12.0 s  meter volts\n            tip-ring\n            across"
    assert hung(mark, 30) == "   5.6 of 16.8  foreign DC\n                first"
    assert hung(plain, 20) == "no columns here,\nonly many words"
    assert hung(f"short\n\n{row}", 80) == f"short\n\n{row}"
