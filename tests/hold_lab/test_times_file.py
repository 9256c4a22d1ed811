"""Every mistake that a stopwatch file can hold is told with its line and in plain words."""

import pytest

from farend_sim.errors import BadFileError
from farend_sim.hold_lab.timings.times_file import parse_times

HEAD = "seconds,finished\n30,1\n41.5,1\n"
CASES = {
    "negative": (f"{HEAD}-3,1\n", "t.csv:4: seconds: found -3, a negative time, expected seconds"),
    "nought": (f"{HEAD}0,1\n", "t.csv:4: seconds: found 0, no time at all"),
    "empty": (f"{HEAD},1\n", "t.csv:4: seconds: found nothing, expected seconds above 0"),
    "text": (f"{HEAD}soon,1\n", "t.csv:4: seconds: found 'soon', no number"),
    "nan": (f"{HEAD}nan,1\n", "t.csv:4: seconds: found nan, no finite number"),
    "infinite": (f"{HEAD}inf,1\n", "t.csv:4: seconds: found inf, no finite number"),
    "too long": (f"{HEAD}1e9,1\n", "t.csv:4: seconds: found 1e9, longer than a day"),
    "finished": (f"{HEAD}30,yes\n", "t.csv:4: finished: found 'yes', expected 1, or 0 where"),
    "no finished": (f"{HEAD}30,\n", "t.csv:4: finished: found nothing"),
    "too few": (f"{HEAD}30\n", "t.csv:4: found 1 values, expected 2: seconds,finished"),
    "too many": (f"{HEAD}30,1,2\n", "t.csv:4: found 3 values, expected 2"),
    "columns": ("time,done\n3,1\n", "t.csv:1: found time,done, expected the columns seconds,"),
    "no head": ("30,1\n40,1\n", "t.csv:1: found 30,1, expected the columns seconds,finished"),
    "nothing": ("", "t.csv:1: found nothing, expected the columns"),
    "no tries": ("seconds,finished\n", "t.csv:1: found no try"),
    "none finished": (
        "# mine\nseconds,finished\n60,0\n60,0\n",
        "t.csv:2: finished: found no finished reading among 2, expected two or more",
    ),
    "one finished": (
        "seconds,finished\n60,0\n50,1\n",
        "t.csv:1: seconds: found finished readings all of one time",
    ),
    "no job": ("seconds,finished,job\n30,1,a\n40,1,\n", "t.csv:3: job: found nothing"),
}


@pytest.mark.parametrize("case", CASES)
def test_a_mistake_is_told_with_its_line(case: str) -> None:
    """The line, the column, what was found and what was expected."""
    text, words = CASES[case]

    with pytest.raises(BadFileError) as caught:
        parse_times(text, "t.csv")

    assert words in str(caught.value)


def test_all_mistakes_are_told_at_once() -> None:
    """Three lines with faults: three lines of message, in the file's order."""
    with pytest.raises(BadFileError) as caught:
        parse_times(f"{HEAD}-3,1\n\nsoon,2\n", "t.csv")

    places = [line.split(" ")[0] for line in str(caught.value).splitlines()]
    assert places == ["t.csv:4:", "t.csv:6:", "t.csv:6:"]


def test_columns_may_stand_in_any_order_with_remarks_between() -> None:
    """A job column, another order, blank lines and remarks are all taken."""
    tries = parse_times("# van 3\nfinished,job,seconds\n1,a,30\n\n0,b, 60\n1,a,41\n", "t.csv")

    found = (tries.seconds.tolist(), tries.finished, tries.job, tries.n, tries.censored)
    assert found == ([30.0, 60.0, 41.0], (True, False, True), ("a", "b", "a"), 3, 1)
