"""`farend-sim wav`: keys as a recording, and a recording as what a unit would have done."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from farend_sim.unit.table import STATES
from tui.commands.answers import Number, echo_json
from tui.commands.options import as_json, by_unit

if TYPE_CHECKING:
    from farend_sim.control.wav import Side
    from line_model.signal import Samples

_full_scale = click.option(
    "--full-scale",
    "full_scale_dbm",
    type=Number(-40.0, 40.0, "dBm"),
    default=9.14,
    show_default=True,
    help="Level of a sine at full scale, in dBm.",
)


@click.group(short_help="Write keys as a recording, or tell what a unit makes of one.")
def wav() -> None:
    """Write keys as a WAV file, or tell what a unit would have made of one."""


@wav.command(short_help="Write what the unit hears of KEYS.")
@click.argument("keys")
@click.argument("out", type=click.Path(path_type=Path, dir_okay=False))
@click.option("--scenario", help="The pair, its noise and the keypad; left out: clean keys.")
@click.option("--state", type=click.Choice(STATES), help="Of the unit, throughout.  [idle]")
@_full_scale
def render(
    keys: str, out: Path, scenario: str | None, state: str | None, full_scale_dbm: float
) -> None:
    """Write what the unit hears of KEYS as 8 kHz, 16 bit, mono.

    KEYS are 0 to 9, A to D, * and #; a comma is a second's pause.
    """
    from farend_sim.control.keypad import KEYS, PAUSE_KEY
    from farend_sim.control.wav import write_wav

    if unknown := sorted(set(keys) - {*KEYS, PAUSE_KEY}) or not keys:
        found = " ".join(unknown) if isinstance(unknown, list) else "nothing"
        raise click.BadParameter(f"found {found}, expected {''.join(KEYS)} or ,", param_hint="KEYS")
    if state is not None and scenario is None:
        raise click.BadParameter("found no --scenario, expected one", param_hint="--state")
    clipped = write_wav(out, _samples(keys, scenario, state or "idle"), full_scale_dbm)
    if clipped:
        click.echo(f"{clipped} samples are clipped; raise --full-scale", err=True)


def _samples(keys: str, scenario: str | None, state: str) -> "Samples":
    import numpy as np

    if scenario is None:
        from farend_sim.control.keypad import clean_samples

        return np.pad(clean_samples(keys), 4000)
    from farend_sim.bench.recording import record
    from farend_sim.files import load_situation

    return record(load_situation(scenario), state, keys)


@wav.command(short_help="Tell what a unit would have done on hearing a recording.")
@click.argument("recording", type=click.Path(path_type=Path))
@click.option("--scheme", default="offset", show_default=True, help="A file or a shipped name.")
@by_unit
@click.option(
    "--channel",
    "side",
    type=click.Choice(("both", "left", "right")),
    default="both",
    show_default=True,
    help="Of a stereo recording; both: their mean.",
)
@_full_scale
@as_json
def decode(
    recording: Path,
    scheme: str,
    unit: str,
    side: "Side",
    full_scale_dbm: float,
    as_json: bool,
) -> None:
    """Tell which keys of RECORDING a unit's receiver takes, and what the unit then does.

    RECORDING is a WAV file of any usual rate, mono or stereo, of 8 to 64 bit, A-law or mu-law. It
    stands for what is across the unit all the time: a strap does not silence it. Exit 1: no
    command was taken.
    """
    from farend_sim.control.wav import read_wav
    from farend_sim.files import find_scheme, find_unit
    from farend_sim.scheme_lab.trial.playback import as_json as told
    from farend_sim.scheme_lab.trial.playback import play

    loaded = find_scheme(scheme), find_unit(unit)
    answer = told(play(read_wav(recording, full_scale_dbm, side), *loaded))
    if as_json:
        echo_json(answer)
    else:
        _print(answer)
    if not answer["commands"]:
        click.get_current_context().exit(1)


def _print(answer: dict[str, Any]) -> None:
    click.echo(f"{answer['duration_s']:.1f} s; digits: {answer['digits'] or 'none'}")
    for one in answer["heard"]:
        click.echo(
            f"{one['t_s']:>9.3f} s  {one['digit']}  {1000 * one['duration_s']:.0f} ms, "
            f"{one['low_hz']:.1f} Hz {one['low_dbm']:.1f} dBm, "
            f"{one['high_hz']:.1f} Hz {one['high_dbm']:.1f} dBm"
        )
    for one in answer["refused"]:
        click.echo(f"{one['t_s']:>9.3f} s  like {one['key']}, not taken: {one['why']}")
    for one in answer["unit"]:
        click.echo(f"{one['t_s']:>9.3f} s  unit: {one['input']}, then {one['state']}")
