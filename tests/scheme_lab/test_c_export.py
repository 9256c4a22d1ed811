"""The exported C is the unit: compiled with warnings as errors, and played beside it."""

import random
import shutil
import subprocess
from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from farend_sim.scheme_lab.check.model import BY_HAND
from farend_sim.scheme_lab.export.c_source import BITS, bits, c_source
from farend_sim.scheme_lab.export.vectors import vectors
from farend_sim.unit import codes
from farend_sim.unit.contacts import Contact
from farend_sim.unit.effects import ContactsSet, Effect, Sound
from farend_sim.unit.events import DigitHeard
from farend_sim.unit.firmware import Unit
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.table import DOES, HOLDS, TABLE, Action, State
from tests.scheme_lab.walks import PROFILE, variants, words

VARIANTS = variants()
FLAGS = ["-std=c99", "-pedantic", "-Wall", "-Wextra", "-Werror", "-Wconversion", "-O1"]
pytestmark = [
    pytest.mark.outside,
    pytest.mark.skipif(shutil.which("gcc") is None, reason="needs gcc"),
]
Story = list[tuple[int, str]]
Built = Callable[[str], Path]


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> Built:
    """A variant's C, compiled with the player once."""
    return cache(lambda name: build(VARIANTS[name], tmp_path_factory.mktemp("c")))


def build(of: Scheme, folder: Path) -> Path:
    """Compile a scheme's C with the player; undefined behaviour stops it."""
    source = c_source(of.title, codes.compiled(of), PROFILE.timing, PROFILE.electrical.tone_hz)
    (folder / "exported.c").write_text(source, encoding="ascii")
    player = Path(__file__).with_name("player.c")
    program = folder / "player"
    sanitize = ["-fsanitize=undefined,address", "-fno-sanitize-recover"]
    command = ["gcc", *FLAGS, *sanitize, f"-I{folder}", str(player), "-o", str(program)]
    subprocess.run(command, check=True, capture_output=True, text=True)
    return program


def in_c(program: Path, stories: list[Story], rests_us: list[int]) -> list[str]:
    """Play stories into the C; each ends with the unit left alone."""
    lines = []
    for story, rest_us in zip(stories, rests_us, strict=True):
        for at_us, symbol in story:
            hand = list(BY_HAND).index(symbol) + 1 if symbol in BY_HAND else 0
            lines.append(f"{at_us} {hand} {symbol[0]}")
        lines.append(f"{story[-1][0] + rest_us} -1 x")
    done = subprocess.run(
        [program], input="\n".join(lines) + "\n", check=True, capture_output=True, text=True
    )
    return done.stdout.splitlines()


def in_python(of: Scheme, stories: list[Story], rest_us: int) -> list[str]:
    """The same in the unit."""
    compiled = codes.compiled(of)
    lines: list[str] = []
    for story in stories:
        unit = Unit(compiled, PROFILE.timing, PROFILE.electrical.tone_hz)

        def live(until_us: int, unit: Unit = unit) -> None:
            while (due_us := unit.deadline_us) is not None and due_us <= until_us:
                lines.extend(told(due_us, each) for each in unit.wake(due_us))

        for at_us, symbol in story:
            live(at_us - 1)
            event = BY_HAND.get(symbol, DigitHeard(symbol))
            lines.extend(told(at_us, each) for each in unit.handle(event, at_us))
        live(story[-1][0] + rest_us)
        lines.append(f"state {list(State).index(unit.state)} {int(unit.attentive)}")
    return lines


def told(at_us: int, effect: Effect) -> str:
    """An effect as the player prints it."""
    if isinstance(effect, ContactsSet):
        return f"{at_us} contacts {bits(effect.closed)}"
    if isinstance(effect, Sound):
        assert effect.start_us == at_us
        listed = " ".join(f"{round(1000 * s.hz)}:{s.duration_us}" for s in effect.segments)
        return f"{at_us} sound {int(effect.repeat)} {listed}"
    return f"{at_us} silence"


def random_stories(of: Scheme, count: int) -> list[Story]:
    """Words, parts of words, nonsense and acts by hand, close together or far apart."""
    stories = []
    for seed in range(count):
        chance, now_us = random.Random(seed), 0
        story: Story = []
        for _ in range(chance.randrange(1, 12)):
            now_us += chance.choice([1, 5_000, 200_000, 700_000, 5_000_000, 31_000_000, 70_000_000])
            by_hand = chance.random() < 0.15
            for symbol in [chance.choice(list(BY_HAND))] if by_hand else words(of, chance):
                now_us += chance.choice([1, 80_000, 160_000, 160_000, 160_000, 3_999_999])
                story.append((now_us, symbol))
        if story:
            stories.append(story)
    return stories


@pytest.mark.parametrize("name", VARIANTS)
def test_c_and_python_do_the_same_at_the_same_times(name: str, built: Built) -> None:
    """Every effect of so many random stories, to the microsecond."""
    of = VARIANTS[name]
    stories = random_stories(of, 150)

    lines = in_c(built(name), stories, [200_000_000_000] * len(stories))

    assert in_python(of, stories, 200_000_000_000) == lines
    assert len(lines) > 1400


@cache
def vectors_of(name: str) -> list[dict[str, Any]]:
    return list(vectors(VARIANTS[name], PROFILE))


@pytest.mark.parametrize("name", ["offset", "terse", "framed", "confirmed", "locked"])
def test_c_does_what_the_vectors_say(name: str, built: Built) -> None:
    """Somebody with nothing but the vectors would pass the exported C."""
    made = vectors_of(name)
    program = built(name)

    # A story of nothing but waiting is a story that the player cannot be told.
    told = [each for each in made if any("t_us" in given for given in each["given"])]
    stories = [
        [(given["t_us"], given.get("key", given.get("act"))) for given in each["given"]]
        for each in told
    ]
    rests_us = [each["until_us"] - story[-1][0] for each, story in zip(told, stories, strict=True)]
    expected = []
    for each in told:
        expected += [told_json(effect) for effect in each["effects"]]
        expected.append(f"state {STATES.index(each['state'])} {int(each['attentive'])}")

    assert expected == in_c(program, stories, rests_us)
    assert len(made) > 100


STATES = [state.value for state in State]


def told_json(effect: dict[str, Any]) -> str:
    """A vector's effect as the player prints it."""
    at_us = effect["t_us"]
    if "closed" in effect:
        return f"{at_us} contacts {sum(BITS[Contact(name)] for name in effect['closed'])}"
    if "sound_hz_us" in effect:
        listed = " ".join(f"{round(1000 * hz)}:{us}" for hz, us in effect["sound_hz_us"])
        return f"{at_us} sound {int(effect['repeat'])} {listed}"
    return f"{at_us} silence"


def test_vectors_meet_every_row_of_the_table_that_can_be_met() -> None:
    """Each row that is not ignored and that the scheme can reach has a vector."""
    about = {each["about"].replace(" attending", "") for each in vectors_of("offset")}
    needed = {
        f"{state.value}: {given.value}"
        for (state, given), (_, action) in TABLE.items()
        if action is not Action.IGNORE
    }
    # Without attention idle is given no command and refuses nothing; this scheme's holds end so.
    cannot = {f"idle: {name}" for name in DOES} | {
        "idle: refuse",
        *(f"{hold.value}: hold-over-attentive" for hold in HOLDS),
        "attentive: knock",  # the knock's first key has closed attention by then
    }

    assert needed - about == cannot


def test_c_is_plain_and_asks_for_no_memory() -> None:
    """No allocation, no library but string.h, nothing that is not ASCII."""
    of = VARIANTS["offset"]
    source = c_source(of.title, codes.compiled(of), PROFILE.timing, PROFILE.electrical.tone_hz)

    assert not [word for word in ("malloc", "calloc", "realloc", "free(") if word in source]
    assert source.count("#include") == 3
    assert source.isascii()
