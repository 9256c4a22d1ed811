"""`farend-sim bench` around its screen: bad files, no terminal, no logbook, a window closed."""

import fcntl
import os
import pty
import subprocess
import sys
import termios
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tui.commands import main

BAD = Path(__file__).parents[1] / "data" / "bad"


def ran(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


@pytest.mark.parametrize("name", ["leak-past-the-end.toml", "unknown-key.toml", "not-there.toml"])
def test_a_bad_file_is_told_as_everywhere(tmp_path: Path, name: str) -> None:
    """The same words as `run` has, exit 2, and no screen."""
    bench = ran("bench", str(BAD / name), "--logbook", str(tmp_path / "book"))
    run = ran("run", str(BAD / name))

    assert (bench.exit_code, bench.stdout, bench.stderr) == (2, "", run.stderr)
    assert "Traceback" not in bench.stderr


def test_without_a_terminal(tmp_path: Path) -> None:
    """A pipe is no terminal: that is said, and nothing is drawn into it."""
    done = ran("bench", "--logbook", str(tmp_path / "book"))

    assert (done.exit_code, done.stdout) == (2, "")
    assert "found no terminal to draw on" in done.stderr


def test_a_logbook_that_cannot_be(tmp_path: Path) -> None:
    """A place that cannot be written is told before anything could be lost."""
    (tmp_path / "file").write_text("")
    done = ran("bench", "--logbook", str(tmp_path / "file" / "book"))

    assert done.exit_code == 2
    assert "expected a file to add to" in done.stderr


@pytest.mark.parametrize("command", ["bench", "serve"])
def test_a_class_book_that_is_none(tmp_path: Path, command: str) -> None:
    """A file that is no class book is told before anybody works for it."""
    (tmp_path / "notes").write_text("no book")
    done = ran(command, "--class", str(tmp_path / "notes"))

    assert done.exit_code == 2
    assert "expected a class book" in done.stderr


def test_a_closed_window_ends_the_program(tmp_path: Path) -> None:
    """The terminal goes away while the screen is drawn: the process ends, and soon."""
    ours, theirs = pty.openpty()
    program = subprocess.Popen(
        [sys.executable, "-c", "from tui.commands import main; main()", "bench", "--light"],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        env={**os.environ, "XDG_DATA_HOME": str(tmp_path), "TERM": "xterm-256color"},
        start_new_session=True,
        preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
    )
    os.close(theirs)
    seen = b""
    while b"Rooms" not in seen:
        seen += os.read(ours, 65536)
    os.close(ours)

    assert program.wait(timeout=30) is not None
