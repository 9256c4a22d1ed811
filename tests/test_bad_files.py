"""Every mistake that a file can hold is told with its line and in plain words.

One file a mistake, in tests/data/bad; the table says which line is named and with which words.
"""

from pathlib import Path

import pytest

from farend_sim.bench.steps.grammar import parse
from farend_sim.errors import BadFileError
from farend_sim.files import load_meter, load_situation, load_unit

BAD = Path(__file__).parent / "data" / "bad"

CASES = {
    "unknown-key.toml": (
        7,
        ("plant.section[0].lenght_m: found an unknown key", "did you mean 'length_m'?"),
    ),
    "unknown-key-feet.toml": (8, ("lenght_ft", "did you mean 'length_ft'?")),
    "unknown-table.toml": (9, ("keypda: found an unknown key", "did you mean 'keypad'?")),
    "missing-format.toml": (1, ("format: found nothing", "required")),
    "future-format.toml": (1, ("format: found 2, expected 1",)),
    "missing-plant.toml": (1, ("plant: found nothing, expected a table",)),
    "unit-fault.toml": (2, ("unit_faults[0]: found 'def'", "did you mean 'deaf'?")),
    "no-section.toml": (3, ("plant.section: found [], expected 1 or more",)),
    "missing-length.toml": (5, ("plant.section[0].length_m: found nothing, expected a number",)),
    "negative-length.toml": (7, ("found -5 (a negative length), expected more than 0",)),
    "negative-length-feet.toml": (
        7,
        ("plant.section[0].length_ft: found -5 (a negative length), expected more than 0",),
    ),
    "text-for-number.toml": (7, ("found 'far', expected a number",)),
    "true-for-number.toml": (7, ("found true, expected a number",)),
    "nan-length.toml": (7, ("found nan, expected a finite number",)),
    "infinite-length.toml": (7, ("found inf, expected a finite number",)),
    "length-beyond-all.toml": (7, ("length_m: found 5e+300, expected 1e+06 or less",)),
    "insulation-of-nothing.toml": (
        8,
        ("insulation_megohm_km: found 1e-300, expected 1e-06 or more",),
    ),
    "wet-metal.toml": (14, ("trouble[0].ohm_km: found 1e-300, expected 0.001 or more",)),
    "induction-beyond-all.toml": (
        11,
        ("trouble[0].rms_volt: found 1e+300, expected 100000 or less",),
    ),
    "date-for-title.toml": (2, ("title: found 2001-02-03, expected text",)),
    "fraction-for-whole.toml": (10, ("keypad.on_ms: found 80.5, expected a whole number",)),
    "wrong-gauge.toml": (6, ("gauge_awg: found 25", "19, 22, 24 or 26")),
    "wrong-diameter.toml": (6, ("diameter_mm: found 0.7", "0.4, 0.5, 0.6, 0.9")),
    "no-gauge.toml": (5, ("plant.section[0]: found no gauge",)),
    "both-gauges.toml": (5, ("found both gauge_awg and diameter_mm, expected one of the two",)),
    "metres-and-feet.toml": (
        8,
        ("length_ft: found both length_m and length_ft, expected one of the two",),
    ),
    "unbalance-too-large.toml": (
        8,
        ("unbalance_pf_per_km: found 200000, expected less than 156000", "negative"),
    ),
    "mutual-too-small.toml": (8, ("mutual_nf_per_km: found 0.1, expected more than 0.19",)),
    "too-hot.toml": (8, ("temperature_c: found 200, expected 90 or less",)),
    "earth-past-the-end.toml": (
        10,
        ("plant.earth[0].at_m: found 3000.5, past the end", "the route, which ends at 3000 m"),
    ),
    "earth-twice.toml": (13, ("plant.earth[1].name: found 'post 9' again", "each name once")),
    "earth-of-zero-ohm.toml": (11, ("plant.earth[0].ohm: found 0, expected more than 0",)),
    "coil-of-the-loading.toml": (12, ("plant.coil[0].name: found 'coil 1' again",)),
    "loading-misspelt.toml": (9, ("plant.loading.kind: found 'H89'", "did you mean 'H88'?")),
    "bond-unknown.toml": (14, ("trouble[0].earth: found 'post9'", "did you mean 'post 9'?")),
    "coil-unknown.toml": (13, ("trouble[0].coil: found 'coil 3'", "coil 1, coil 2")),
    "tap-unknown.toml": (17, ("trouble[0].on: found 'U', expected a tap's name: T",)),
    "leak-past-the-tap.toml": (
        18,
        ("trouble[0].at_m: found 900, past the end", "tap T, which ends at 150 m"),
    ),
    "tap-twice.toml": (15, ("plant.tap[1].name: found 'T' again",)),
    "when-always.toml": (13, ("trouble[0].when.share: found 1, expected less than 1",)),
    "drift-to-nothing.toml": (13, ("trouble[0].drift.to_ohm: found 0, expected 0.001 or more",)),
    "water-that-comes-and-goes.toml": (15, ("trouble[0].when: found a stretch", "one of the two")),
    "when-misspelt.toml": (13, ("trouble[0].when.periods_s", "did you mean 'period_s'?")),
    "ringing-of-a-telephone.toml": (10, ("beyond.ringing: found true of equipment 'telephone'",)),
    "control-character.toml": (3, ("brief: found the control character '\\x1b'",)),
    "absorption-negative.toml": (7, ("absorption_percent: found -1, expected 0 or more",)),
    "tap-past-the-end.toml": (
        10,
        ("plant.tap[0].at_m: found 1200, past the end", "ends at 1000 m"),
    ),
    "leak-past-the-end.toml": (
        12,
        ("trouble[0].at_m: found 1000.1, past the end", "ends at 1000 m"),
    ),
    "leak-past-the-end-feet.toml": (
        12,
        ("trouble[0].at_ft: found 5000 ft, which is 1524 m, past the end",),
    ),
    "leak-before-the-start.toml": (
        12,
        ("at_m: found -1 (before the near end), expected 0 or more",),
    ),
    "leak-of-zero-ohm.toml": (
        13,
        ("trouble[0].ohm: found 0 (a leak of zero ohm: a short is 1e-3 or more)",),
    ),
    "leak-to-itself.toml": (
        11,
        ("trouble[0].between: found 'tip' twice, expected two different conductors",),
    ),
    "leak-of-one-end.toml": (
        11,
        ("trouble[0].between[1]: found nothing, expected text (it is required)",),
    ),
    "leak-of-three.toml": (11, ("trouble[0].between", "2 of them at most")),
    "wrong-conductor.toml": (
        11,
        ("trouble[0].between[1]: found 'shield', expected 'tip', 'ring' or 'sheath'",),
    ),
    "unknown-trouble.toml": (
        10,
        ("trouble[0].kind: found 'leek', expected one of leak, series", "did you mean 'leak'?"),
    ),
    "trouble-without-kind.toml": (9, ("trouble[0].kind: found nothing, expected one of leak",)),
    "key-of-another-trouble.toml": (14, ("trouble[0].volt: found an unknown key",)),
    "wet-backwards.toml": (
        13,
        ("trouble[0].to_m: found 300, expected a place past from_m, which is 400 m",),
    ),
    "breakdown-of-nothing.toml": (
        14,
        ("trouble[0].breakdown_volt: found 0, expected more than 0",),
    ),
    "induction-order.toml": (12, ("trouble[0].harmonics[0].order: found 1, expected 2 or more",)),
    "induction-percent.toml": (
        14,
        ("trouble[0].harmonics[1].percent: found 110, expected 100 or less",),
    ),
    "induction-negative.toml": (11, ("trouble[0].rms_volt: found -9, expected more than 0",)),
    "induction-hz.toml": (12, ("trouble[0].hz: found 0, expected 10 or more",)),
    "induction-too-high.toml": (
        13,
        ("harmonics[0].order: found 11, which is 4400 Hz, expected a harmonic under 4000 Hz",),
    ),
    "induction-misspelt.toml": (10, ("found 'indution'", "did you mean 'induction'?")),
    "induction-at-a-place.toml": (12, ("trouble[0].at_m: found an unknown key",)),
    "equipment-misspelt.toml": (
        10,
        ("beyond.equipment: found 'ofice', expected 'none', 'office'", "did you mean 'office'?"),
    ),
    "equipment-hook.toml": (11, ("behind.hook: found 'of', expected 'on' or 'off'",)),
    "hook-of-an-office.toml": (
        11,
        ("beyond.hook: found 'off' of equipment 'office', expected no hook but a telephone's",),
    ),
    "trouble-is-no-list.toml": (9, ("trouble: found a table, expected a list",)),
    "meter-twice.toml": (1, ("meters[1]: found 'ohms', a second meter named 'ohms'",)),
    "meter-unknown.toml": (
        3,
        ("meters[1]: found 'ohmz'", "ohms, swing, volts", "did you mean 'ohms'?"),
    ),
    "scheme-unknown.toml": (1, ("scheme: found 'offest'", "did you mean 'offset'?")),
    "scheme-outside.toml": (
        1,
        ("scheme: found '../../elsewhere.toml', which leaves the folder",),
    ),
    "unit-absolute.toml": (1, ("unit: found '/unit.toml', which leaves the folder",)),
    "unit-missing.toml": (1, ("unit: found 'nowhere.toml', no such file",)),
    "broken-statement.toml": (8, ("found 'seed 7', expected TOML; expected '=' after a key",)),
    "broken-string.toml": (1, ("expected TOML",)),
    "key-twice.toml": (8, ("found 'length_m = 2.0', expected TOML; cannot overwrite a value",)),
    "not-utf-8.toml": (8, ("bytes that are not UTF-8",)),
    "split-overlap.toml": (
        18,
        ("trouble[1].from_m: found 399, inside the split of trouble[0], expected a place outside",),
    ),
    "split-backwards.toml": (13, ("to_m: found 300, expected a place past from_m, which is 400",)),
    "split-past-the-end.toml": (13, ("trouble[0].to_m: found 1300, past the end",)),
    "split-with-nobody.toml": (16, ("found 'groser'", "did you mean 'grocer'?")),
    "split-of-the-sheath.toml": (11, ("conductor: found 'sheath', expected 'tip' or 'ring'",)),
    "cross-to-nobody.toml": (14, ("between[1]: found 'mill.ring'", "a neighbour of the plant")),
    "cross-of-others.toml": (14, ("expected one of them the pair's own leg",)),
    "cross-on-a-tap.toml": (20, ("on tap 'T'", "neighbours have no taps")),
    "neighbour-twice.toml": (13, ("plant.neighbour[1].name: found 'grocer' again",)),
    "neighbour-name.toml": (10, ("found 'corner shop', expected letters, digits and '_'",)),
    "neighbour-name-taken.toml": (10, ("found 'ring', which means something else",)),
    "neighbour-state.toml": (11, ("found 'talkin'", "did you mean 'talking'?")),
    "neighbour-open-nowhere.toml": (11, ("open_leg: found 'tip', expected open_at_m too",)),
    "neighbour-open-past-the-end.toml": (12, ("open_at_m: found 1200, past the end",)),
    "post-without-block.toml": (11, ("post: found 4, expected a [block] that has posts",)),
    "post-of-the-pair.toml": (11, ("post: found 4, the pair's own post",)),
    "post-twice.toml": (15, ("plant.neighbour[1].post: found 4 again",)),
    "post-off-the-block.toml": (11, ("found 26, expected a post of the block, from 1 to 25",)),
    "block-too-small.toml": (10, ("block.posts: found 20, expected 25 or more",)),
    "block-without-pair.toml": (9, ("block.pair: found nothing, expected a whole number",)),
    "block-record-off.toml": (12, ("block.record: found 31", "from 1 to 30")),
    "clip.steps": (3, ("found '0', expected the number of a post, from 1 to 3600",)),
    "probe-leg.steps": (3, ("found 'tipp'", "did you mean 'tip'?")),
    "probe-bare.steps": (3, ("found 'probe', expected probe POST",)),
    "pinch-words.steps": (3, ("found 'pinch 4 5', expected pinch POST",)),
    "meter-neighbour.steps": (3, ("found 'innring', expected one of tip, ring, sheath",)),
    "tie-leg.steps": (3, ("found 'sheath', expected one of tip, ring",)),
    "tie-bare.steps": (3, ("found 'tie grocer', expected tie NAME tip",)),
    "unit-clip-sheath.steps": (3, ("did you mean 'tip-sheath'?",)),
    "verb.steps": (3, ("found 'uint', expected one of unit,", "did you mean 'unit'?")),
    "unit-act.steps": (3, ("did you mean 'wake'?",)),
    "unit-bare.steps": (3, ("found nothing, expected one of wake",)),
    "unit-clip.steps": (3, ("did you mean 'reversed'?",)),
    "unit-clip-twice.steps": (3, ("'reversed' twice",)),
    "control-character.steps": (3, ("found the control character '\\x1b', expected text",)),
    "battery.steps": (3, ("expected unit wake, off",)),
    "meter-name.steps": (3, ("found 'ohmz', expected one of bridge, volts, ohms; did you mean",)),
    "meter-across.steps": (3, ("did you mean 'tip-ring'?",)),
    "meter-words.steps": (3, ("found 'meter ohms', expected meter NAME A-B",)),
    "near.steps": (3, ("did you mean 'short'?",)),
    "keys-letter.steps": (3, ("found 'z' in '12z4'",)),
    "keys-none.steps": (3, ("found 'keys', expected keys DIGITS",)),
    "keys-option.steps": (3, ("found 'onn'", "did you mean 'on'?")),
    "keys-on.steps": (3, ("found '0', expected milliseconds from 1",)),
    "keys-level.steps": (3, ("found 'nan', expected level=dBm from -80 to 10",)),
    "wait-words.steps": (3, ("found 'wait', expected wait SECONDS",)),
    "wait-text.steps": (3, ("found 'long', expected seconds from 0",)),
    "wait-negative.steps": (3, ("found '-1', expected seconds from 0",)),
    "wait-endless.steps": (3, ("found 'inf', expected seconds from 0",)),
    "read-words.steps": (3, ("found 'read twice', expected read, and no more",)),
    "note.steps": (3, ("found nothing after 'note', expected note TEXT",)),
    "access-at-the-end.toml": (9, ("plant.access[0].at_m: found 1000, past the last place",)),
    "access-named-as-an-end.toml": (
        8,
        (
            "plant.access[0].name: found 'far'",
            "both ends have",
        ),
    ),
    "access-named-as-a-number.toml": (
        8,
        (
            "found '7th pole'",
            "does not begin as a number",
        ),
    ),
    "access-name-twice.toml": (12, ("plant.access[1].name: found 'Culvert', a second",)),
    "access-place-twice.toml": (13, ("plant.access[1].at_m: found 400, a second access point",)),
    "access-kind.toml": (10, ("found 'pedestel'", "did you mean 'pedestal'?")),
    "access-travel.toml": (10, ("plant.access[0].travel_s: found -1, expected 0 or more",)),
    "record-gauge.toml": (8, ("record.section[0].gauge_awg: found 25", "19, 22, 24 or 26")),
    "record-no-gauge.toml": (7, ("record.section[0]: found no gauge",)),
    "record-access-unknown.toml": (
        16,
        ("record.access[0].name: found 'Culvret'", "did you mean 'Culvert'?"),
    ),
    "record-access-missing.toml": (
        12,
        ("plant.access[1].name: found 'Mill', of which the record says nothing",),
    ),
    "record-too-short.toml": (9, ("found 400, past the end of the record", "before 300 m")),
    "place-go.steps": (3, ("found 'go', expected go PLACE",)),
    "place-look.steps": (3, ("did you mean 'far'?",)),
    "place-join.steps": (3, ("did you mean 'ring'?",)),
    "place-repair.steps": (3, ("found '+1e9', expected metres",)),
    "place-open-joint.steps": (3, ("found 'open-joint Culvert'",)),
    "a-unit-contact.toml": (7, ("electrical.contact_ohm: found 0, expected more than 0",)),
    "a-unit-misspelt.toml": (12, ("electrical.lake_ohm", "did you mean 'leak_ohm'?")),
    "bridge-one-leg.steps": (3, ("found no good=, expected both bad=LEG and good=LEG",)),
    "bridge-same-leg.steps": (3, ("found 'tip' twice, expected two different legs",)),
    "bridge-no-leg.steps": (3, ("found 'sheath', expected one of tip, ring",)),
    "a-meter-limits.toml": (11, ("most_dbm: found -70, expected more than least_dbm",)),
    "a-meter-ranges.toml": (32, ("range[1].full_scale_volt: found 1, expected more than 2",)),
    "a-meter-coarse.toml": (12, ("slide_step: found 0.5, expected less than 0.1",)),
    "a-meter-bridge-unsourced.toml": (32, ("source.detector_volt: found no source",)),
    "a-meter-unsourced.toml": (12, ("source.accuracy_counts: found no source",)),
    "a-unit-unsourced.toml": (43, ("timing.source.tone_on_s: found no source",)),
}


def load(path: Path) -> None:
    """Read a file as what its name says it is."""
    if path.suffix == ".steps":
        parse(path.read_text(encoding="utf-8"), path.name, ("bridge", "volts", "ohms"))
    elif path.name.startswith("a-unit"):
        load_unit(path.name, path.parent)
    elif path.name.startswith("a-meter"):
        load_meter(path.name, path.parent)
    else:
        load_situation(path)


@pytest.mark.parametrize("name", CASES)
def test_a_mistake_is_told_with_its_line(name: str) -> None:
    """The message names the file, the line, what was found and what was expected."""
    line, words = CASES[name]

    with pytest.raises(BadFileError) as caught:
        load(BAD / name)

    told = [text for text in str(caught.value).split("\n") if f"{name}:{line}: " in text]
    assert [text for text in told if all(word in text for word in words)], str(caught.value)


def test_every_bad_file_has_its_case() -> None:
    """No file in the folder goes unread."""
    assert {path.name for path in BAD.iterdir()} == set(CASES)


def test_mistakes_of_a_file_are_few() -> None:
    """A mistake is told once; only a misspelt key that is required counts as two."""
    counts = {}
    for name in CASES:
        with pytest.raises(BadFileError) as caught:
            load(BAD / name)
        counts[name] = len(str(caught.value).split("\n"))

    assert {name for name, count in counts.items() if count > 1} <= {
        "unknown-key.toml",
        "when-misspelt.toml",
        "a-unit-misspelt.toml",
    }
