"""More plants for the outside checks: what is fitted to a cable, taps with trouble, and company."""

from line_model.plant import Coil, Earth, Loading, Plant, Section, Tap
from line_model.troubles import (
    BadCoil,
    Battery,
    Bond,
    Conductor,
    Leak,
    Leg,
    Reversal,
    Series,
    Trouble,
    Wet,
)
from tests.oracles.plants import Case

_LONG = Plant(section=(Section(name="a", gauge_awg=22, length_m=6200.0),))
_H88 = Plant(section=_LONG.section, loading=Loading(kind="H88"))
_D66 = Plant(
    section=(
        Section(name="a", gauge_awg=24, length_m=2400.0),
        Section(name="b", diameter_mm=0.6, length_m=1900.0, temperature_c=-5.0),
    ),
    loading=Loading(kind="D66", ohm=4.5),
)
_ODD = Plant(
    section=(Section(gauge_awg=26, length_m=1800.0),),
    coil=(
        Coil(name="first", at_m=0.0, millihenry=22.0, ohm=4.0),
        Coil(name="second", at_m=1100.0, millihenry=44.0, ohm=9.0),
    ),
)
_BONDED = Plant(
    section=(
        Section(name="a", gauge_awg=24, length_m=1000.0, sheath_ohm_per_km=5.0),
        Section(name="b", gauge_awg=26, length_m=700.0),
    ),
    earth=(
        Earth(name="mid", at_m=600.0, ohm=12.0, volt=1.2, ac_volt=3.0),
        Earth(name="joint", at_m=1000.0, ohm=40.0, volt=-0.4, ac_volt=1.0),
    ),
    far_earth_volt=2.5,
    far_earth_ac_volt=8.0,
)
_TAPPED = Plant(
    section=(Section(gauge_awg=24, length_m=1500.0),),
    tap=(
        Tap(name="T", gauge_awg=24, length_m=150.0, at_m=900.0),
        Tap(name="U", gauge_awg=26, length_m=400.0, at_m=300.0, temperature_c=40.0),
    ),
)
_DAMP = Plant(
    section=(
        Section(name="a", gauge_awg=24, length_m=800.0, absorption_percent=100.0),
        Section(name="b", gauge_awg=26, length_m=600.0),
    ),
)
_POOR = Plant(
    section=(
        Section(gauge_awg=26, length_m=500.0, insulation_megohm_km=2.0),
        Section(diameter_mm=0.5, length_m=900.0, mutual_nf_per_km=70.0, lay_percent=4.0),
        Section(gauge_awg=19, length_m=300.0, unbalance_percent=4.0),
    ),
    temperature_c=55.0,
)
_SHORT = Plant(section=(Section(gauge_awg=24, length_m=12.0),))


def _leak(a: Conductor, b: Conductor, at_m: float, ohm: float, on: str | None = None) -> Leak:
    return Leak(kind="leak", between=(a, b), at_m=at_m, ohm=ohm, on=on)


def _series(
    conductor: Conductor, at_m: float, ohm: float | None = None, on: str | None = None
) -> Series:
    return Series(kind="series", conductor=conductor, at_m=at_m, ohm=ohm, on=on)


def _battery(conductor: Leg, at_m: float, volt: float, ohm: float) -> Battery:
    return Battery(kind="battery", conductor=conductor, at_m=at_m, volt=volt, ohm=ohm)


_SHEATH_OPEN: tuple[Trouble, ...] = (_series("sheath", 800.0),)

MORE = {
    "loaded H88": Case(_H88),
    "a coil missing": Case(_H88, (BadCoil(kind="coil", coil="coil 2"),)),
    "a coil reversed": Case(_H88, (BadCoil(kind="coil", coil="coil 1", wrong="reversed"),)),
    "loaded D66 with a leak": Case(_D66, (_leak("tip", "sheath", 2400.0, 8e3),)),
    "odd coils, a leg open": Case(_ODD, (_series("ring", 1200.0),)),
    "odd coils, unit turned": Case(_ODD, (_leak("ring", "tip", 0.0, 5e4),), turned=True),
    "bonded": Case(_BONDED),
    "bonded, a leak": Case(_BONDED, (_leak("ring", "sheath", 1300.0, 3e4),)),
    "a bond missing": Case(_BONDED, (Bond(kind="bond", earth="mid"),)),
    "a bond of many ohms": Case(_BONDED, (Bond(kind="bond", earth="joint", ohm=500.0),)),
    "bonded, the sheath open": Case(_BONDED, _SHEATH_OPEN),
    "no bond left, the sheath open": Case(
        _BONDED,
        (*_SHEATH_OPEN, Bond(kind="bond", earth="mid"), Bond(kind="bond", earth="joint")),
    ),
    "leak at a tap's end": Case(_TAPPED, (_leak("tip", "sheath", 150.0, 4e4, "T"),)),
    "short in a tap": Case(_TAPPED, (_leak("tip", "ring", 250.0, 12.0, "U"),)),
    "tap reversed, leak behind": Case(
        _TAPPED,
        (
            Reversal(kind="reversal", at_m=100.0, on="U"),
            _leak("tip", "sheath", 300.0, 2e3, "U"),
        ),
    ),
    "wet tap": Case(
        _TAPPED,
        (
            Wet(
                kind="wet", between=("ring", "sheath"), from_m=20.0, to_m=150.0, ohm_km=50.0, on="T"
            ),
        ),
    ),
    "taps opened": Case(
        _TAPPED,
        (
            _series("tip", 0.0, on="U"),
            _series("ring", 0.0, on="U"),
            _series("sheath", 60.0, 4.0, on="T"),
        ),
    ),
    "battery in a tap": Case(
        _TAPPED,
        (Battery(kind="battery", conductor="ring", at_m=80.0, volt=-52.0, ohm=900.0, on="T"),),
    ),
    "soaking insulation": Case(_DAMP),
    "soaking insulation, an open": Case(_DAMP, (_series("tip", 900.0),)),
    "poor insulation": Case(_POOR),
    "poor insulation, wet": Case(
        _POOR, (Wet(kind="wet", between=("tip", "sheath"), from_m=0.0, to_m=1700.0, ohm_km=100.0),)
    ),
    "water that no ohms show": Case(
        _LONG,
        (
            Wet(
                kind="wet",
                between=("tip", "ring"),
                from_m=500.0,
                to_m=2900.0,
                ohm_km=1e6,
                capacitance_percent=40.0,
            ),
            _series("ring", 4000.0),
        ),
    ),
    "a dozen metres": Case(_SHORT),
    "a dozen metres, shorted": Case(_SHORT, (_leak("tip", "ring", 12.0, 0.05),)),
    "crosses to two batteries": Case(
        _LONG, (_battery("tip", 100.0, -48.0, 1e3), _battery("ring", 6000.0, 24.0, 2e5))
    ),
    "two reversals": Case(
        _LONG,
        (
            Reversal(kind="reversal", at_m=2000.0),
            _series("tip", 3000.0, 300.0),
            Reversal(kind="reversal", at_m=4000.0),
        ),
    ),
    "both legs open": Case(_LONG, (_series("tip", 3000.0), _series("ring", 3100.0))),
    "all that is fitted, and trouble": Case(
        Plant(
            section=_LONG.section,
            tap=(Tap(name="T", gauge_awg=26, length_m=200.0, at_m=914.4),),
            earth=(Earth(name="mid", at_m=3000.0, ohm=30.0, volt=-1.0),),
            loading=Loading(kind="H88", ohm=9.0),
            far_earth_volt=1.5,
        ),
        (
            _leak("tip", "sheath", 200.0, 1e5, "T"),
            _series("ring", 4000.0, 90.0),
            BadCoil(kind="coil", coil="coil 3"),
            Reversal(kind="reversal", at_m=5000.0),
            _battery("tip", 5500.0, -30.0, 3e4),
        ),
    ),
}
