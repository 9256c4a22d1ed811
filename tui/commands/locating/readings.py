"""`farend-sim locate --readings FILE RECORD`: all readings weighed together, a second opinion."""

from pathlib import Path

import click

from tui.commands.answers import Number
from tui.commands.options import as_json, by_unit


@click.command(
    options_metavar="FILE [OPTIONS]",
    short_help="FILE: weigh all readings of a pair together: what, which, where.",
)
@click.argument("record", metavar="RECORD")
@click.option(
    "--readings", type=click.Path(path_type=Path, dir_okay=False), required=True,
    help="Columns meter,across,value and optionally state,lead,zeroed; or JSON Lines.",
)  # fmt: skip
@click.option("--meter", "meters", multiple=True, help="A meter's file or shipped name, repeated.")
@by_unit
@click.option("--knock", type=click.Choice(["answered", "silent"]), help="Did the unit answer?")
@click.option(
    "--temperature-off", type=Number(0, 40, "C"), default=2.5, show_default=True,
    help="How far the recorded temperature may be off: a standard deviation.",
)  # fmt: skip
@click.option(
    "--gauge-percent", type=Number(0, 20, "percent"), default=2.5, show_default=True,
    help="Ohms as built, likewise; half of the limit of 7 CFR 1755.403(d)(6)(i).",
)  # fmt: skip
@click.option(
    "--capacitance-percent", type=Number(0, 20, "percent"), default=4.0, show_default=True,
    help="Likewise; half of the limit of 7 CFR 1755.860(m)(1)(i).",
)  # fmt: skip
@click.option(
    "--wrong-gauge", type=Number(0, 90, "percent"), default=0.0, show_default=True,
    help="How likely it is that one section is of the next gauge up or down.",
)  # fmt: skip
@click.option(
    "--wrong-length", type=Number(0, 90, "percent"), default=0.0, show_default=True,
    help="How likely it is that one section is longer or shorter, by hundreds of metres.",
)  # fmt: skip
@as_json
def readings_(
    record: str, readings: Path, meters: tuple[str, ...], unit: str, knock: str | None,
    temperature_off: float, gauge_percent: float, capacitance_percent: float, wrong_gauge: float,
    wrong_length: float, as_json: bool,
) -> None:  # fmt: skip
    """Rank what may be wrong with a pair by all its readings, with place and resistance.

    Readings are of a pair whose near end is lifted; `state` is what the unit at the far end was
    told. Known to the expert are ohms, DC volts, a bridge and a capacitance meter. Exit 1: the
    readings do not pin a trouble down.
    """
    from dataclasses import replace

    from farend_sim.drill.drill import near_enough_m
    from farend_sim.drill.expert.doubt import Doubt
    from farend_sim.drill.expert.expert import expert
    from farend_sim.drill.expert.readings_file import read_looks
    from farend_sim.drill.solving.solve import Asks, idle_state
    from farend_sim.files import find_meter, find_unit, load_situation
    from farend_sim.shipped import names
    from tui.commands.second_opinion import tell, weighable

    situation = load_situation(record)
    weighed = meters or ("volts", "ohms", "bridge", "capacitance")
    at_hand = {Path(name).stem: find_meter(name) for name in weighed}
    situation = replace(situation, meters=at_hand, unit=find_unit(unit))
    shipped = {name: find_meter(name) for name in names("meters")}
    looks = read_looks(readings, shipped | at_hand)
    doubt = Doubt(
        temperature_c=temperature_off,
        gauge_percent=gauge_percent,
        capacitance_percent=capacitance_percent,
        wrong_gauge_percent=wrong_gauge,
        wrong_length_percent=wrong_length,
    )
    asks = Asks(near_enough_m(situation.scenario.recorded), ohm=True)
    heard = None if knock is None else knock == "answered"
    who = expert(situation, doubt=doubt)
    known = weighable(who, looks, readings, "; --meter names those it is to weigh")
    pinned = tell(who, known, asks, idle_state(situation), as_json, heard)
    click.get_current_context().exit(0 if pinned else 1)
