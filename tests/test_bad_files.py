"""Every mistake that a file can hold is told with its line and in plain words.

One file a mistake, in tests/data/bad. What is to be told of it stands at its end, a line a message:
`# told at LINE: words ... more words`, all of which the message has, in that order.
"""

import re
from pathlib import Path

import pytest

from farend_sim.bench.steps.grammar import parse
from farend_sim.errors import BadFileError
from farend_sim.files import load_meter, load_situation, load_unit

BAD = Path(__file__).parent / "data" / "bad"
FILES = sorted(path.name for path in BAD.iterdir())


def load(path: Path) -> None:
    """Read a file as what its name says it is."""
    if path.suffix == ".steps":
        text = path.read_text(encoding="utf-8")
        parse(text, path.name, ("bridge", "volts", "ohms"), ("near", "Culvert", "far"))
    elif path.name.startswith("a-unit"):
        load_unit(path.name, path.parent)
    elif path.name.startswith("a-meter"):
        load_meter(path.name, path.parent)
    else:
        load_situation(path)


def to_be_told(path: Path) -> list[re.Pattern[str]]:
    """What each message must have; one file is not UTF-8, and is read as any bytes can be."""
    marks = re.findall(r"^# told at (\d+): (.+)$", path.read_text("latin-1"), re.MULTILINE)
    return [
        re.compile(".*".join(map(re.escape, (f"{path.name}:{line}: ", *words.split(" ... ")))))
        for line, words in marks
    ]


@pytest.mark.parametrize("name", FILES)
def test_a_mistake_is_told_with_its_line(name: str) -> None:
    """Each message names the file, the line, what was found and what was expected; none is more."""
    with pytest.raises(BadFileError) as caught:
        load(BAD / name)

    told = str(caught.value).split("\n")
    for text, pattern in zip(told, to_be_told(BAD / name), strict=True):
        assert pattern.search(text), text
