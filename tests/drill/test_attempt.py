"""An attempt is on disk before it acts, and goes on where it was whatever ended it."""

import json
import os
import signal
from functools import partial
from itertools import count
from pathlib import Path
from time import sleep

import pytest

from farend_sim.drill.marks.verdict import judge
from farend_sim.drill.work import kept
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.journal import Journal, entries_of, read_journal
from farend_sim.drill.work.story import Story
from farend_sim.errors import BadFileError
from tests.drill.working import authored, by_expert, elsewhere, ended, steps_of, worked

DRILL = "mill-end-4"


def steps() -> list[str]:
    return steps_of(authored(DRILL))


def test_an_attempt_goes_on_where_it_was(tmp_path: Path) -> None:
    """Closed in the middle and opened again, the rest comes out as if it had never been closed."""
    whole, _ = by_expert(DRILL)
    for cut in (0, 7, len(steps()) - 1):
        path = tmp_path / f"{cut}.jsonl"
        worked(authored(DRILL), steps()[:cut], path).close()
        again = kept.resume(path)
        rows = [again.do(step) for step in steps()[cut:]]
        assert [one.row for one in whole.done] == [one.row for one in again.done]
        assert len(steps()) - cut == len(rows)
        again.close()


def test_torn_at_every_byte(tmp_path: Path) -> None:
    """Whatever byte a crash stops at, every line that was whole is there, and no half line is.

    The journal is cut at each of its bytes: what is read is every entry that had ended before.
    """
    path = tmp_path / "whole.jsonl"
    worked(authored(DRILL), steps()[:12], path).close()
    raw = path.read_bytes()
    ends = [at + 1 for at, byte in enumerate(raw) if byte == ord("\n")]
    entries = [json.loads(line) for line in raw.splitlines()]
    for cut in range(ends[0], len(raw) + 1):
        whole = sum(end <= cut for end in ends)
        assert entries[:whole] == entries_of(raw[:cut], "cut")


def test_a_torn_journal_goes_on(tmp_path: Path) -> None:
    """A line that was torn is taken away, the rest is played, and what follows is appended."""
    path = tmp_path / "torn.jsonl"
    worked(authored(DRILL), steps()[:6], path).close()
    lines = path.read_bytes().splitlines(keepends=True)
    path.write_bytes(b"".join(lines[:6]) + lines[6][:9])
    attempt = kept.resume(path)
    assert len(attempt.done) == 5
    for step in steps()[5:]:
        attempt.do(step)
    attempt.hand_in()
    attempt.close()
    assert judge(kept.read(path)) == by_expert(DRILL)[1]


def test_two_hundred_kills(tmp_path: Path) -> None:
    """Whoever is killed at whatever moment has lost nothing that was answered.

    Two hundred processes work an attempt each and say each step once it is done; each is killed
    after some steps and some part of the next. All that was said is in the journals.
    """
    attempt = Attempt(authored(DRILL))  # made once: each process has its own copy of it
    lost = [number for number in range(200) if not _keeps_all(attempt, tmp_path, number)]
    assert lost == []


def _keeps_all(attempt: Attempt, folder: Path, number: int) -> bool:
    """Kill a process at work, and look whether its journal has all that it said."""
    path, said = folder / f"{number}.jsonl", folder / f"{number}.said"
    said.touch()
    child = elsewhere(partial(_work_for_ever, attempt, path, said))
    while _said(said) < number % 7:
        sleep(0.0005)
    sleep(number % 13 * 0.0003)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    if not path.exists() or not path.read_bytes().count(b"\n"):
        return _said(said) == 0
    steps = [entry["step"] for entry in read_journal(path)[1:]]
    assert [f"note {n}" for n in range(1, len(steps) + 1)] == steps
    return _said(said) <= len(steps) <= _said(said) + 1


def _work_for_ever(attempt: Attempt, path: Path, said: Path) -> None:
    line = os.open(said, os.O_WRONLY)
    attempt.keep(Journal.create(path, {"journal": 1}))
    for number in count(1):
        attempt.do(f"note {number}")
        os.pwrite(line, f"{number:9d}".encode(), 0)


def _said(said: Path) -> int:
    return int(said.read_bytes() or b"0")


def test_only_one_at_a_time(tmp_path: Path) -> None:
    """An attempt that is open cannot be opened again, in this process or another."""
    path = tmp_path / "one.jsonl"
    attempt = worked(authored(DRILL), steps()[:2], path)
    with pytest.raises(BadFileError, match="open elsewhere"):
        kept.resume(path)

    def refused() -> None:
        with pytest.raises(BadFileError, match="open elsewhere"):
            kept.resume(path)

    assert ended(elsewhere(refused)) == 0
    attempt.close()
    kept.resume(path).close()


def test_time_that_goes_on(tmp_path: Path) -> None:
    """On a screen a reading is made while time passes; replayed, it is the same to the byte."""
    path = tmp_path / "live.jsonl"
    attempt = kept.start(authored(DRILL), path)
    attempt.begin("lift")
    attempt.begin("meter volts tip-ring")
    rows = []
    attempt.begin("read")
    for _ in range(200):
        rows += attempt.advance(40_000)
    attempt.begin("keys 5")
    attempt.begin("keys 6")
    attempt.advance(500_000)
    attempt.begin("log")
    attempt.close()
    again = kept.read(path)
    assert [one.row for one in attempt.done] == [one.row for one in again.done]
    assert [row["step"] for row in rows] == ["read"]
    assert {"meter": "volts", "across": "tip-ring", "shown": rows[0]["shown"]} == again.done[
        -1
    ].row["logged"]
    assert attempt.snapshot == again.snapshot


def test_a_mistyped_line_changes_nothing(tmp_path: Path) -> None:
    """A line that is no step is told, is not kept, and leaves the bench as it was."""
    path = tmp_path / "typed.jsonl"
    attempt = kept.start(authored(DRILL), path)
    before = path.read_bytes()
    for line in ("red", "meter vlts tip-ring", "answer kind=shrt", "fault deaf on"):
        with pytest.raises(BadFileError):
            attempt.do(line)
    assert before == path.read_bytes()
    attempt.close()


def test_nothing_after_it_is_handed_in(tmp_path: Path) -> None:
    """Handed in, an attempt takes no more."""
    path = tmp_path / "in.jsonl"
    attempt = worked(authored(DRILL), steps(), path)
    attempt.hand_in()
    with pytest.raises(BadFileError, match="handed in"):
        attempt.do("lift")
    attempt.close()
    assert kept.read(path).handed_in


def test_what_was_handed_in_stands(tmp_path: Path) -> None:
    """An hour over the debrief, and a hint asked for there, change no mark."""
    path, drill = tmp_path / "a.jsonl", authored("foundry-yard-2")
    attempt = kept.start(drill, path)
    for step in steps_of(drill):
        attempt.do(step)
    attempt.hand_in()
    verdict = judge(attempt)
    attempt.advance(3_600_000_000)
    attempt.ask_hint()
    attempt.close()

    assert judge(attempt) == judge(kept.read(path)) == verdict


def test_a_reading_that_another_step_outlasts_counts(tmp_path: Path) -> None:
    """Begun on a screen and over while hands work elsewhere, it is read, and played again so."""
    attempt = kept.start(authored("foundry-yard-2"), path := tmp_path / "a.jsonl")
    attempt.begin("meter volts tip-ring")
    attempt.begin("read")
    attempt.do("wait 20")
    attempt.do("log")
    attempt.close()
    played = kept.read(path)

    assert [done.step.text for done in attempt.done] == [done.step.text for done in played.done]
    assert [each.row["t_s"] for each in Story(attempt).logged] == [3.1]


def test_a_later_answer_takes_the_place_of_an_earlier() -> None:
    """The same kind on the same legs is answered anew; `drop` takes all back."""
    attempt = Attempt(authored(DRILL))
    attempt.do("answer kind=short at_m=900")
    attempt.do("answer kind=short at_m=1300")
    attempt.do("answer kind=open leg=tip")
    assert [one.at_m for one in attempt.answers] == [1300.0, None]
    attempt.do("answer drop")
    assert attempt.answers == ()


@pytest.mark.parametrize(
    ("raw", "words"),
    [
        (b"", "found no head"),
        (b"{}\n", "found no head"),
        (b'{"journal": 1}\nnot json\n{}\n', ":2: found a broken line"),
        (b'{"journal": 1, "drill": "x", "seed": 1, "sealed": "AAAA"}\n', ":1: found a broken head"),
    ],
)
def test_what_is_no_journal_is_told(raw: bytes, words: str) -> None:
    """A file that is no journal, or was changed, is told with its line."""
    with pytest.raises(BadFileError, match=words):
        kept.replayed(entries_of(raw, "file"), "file")
