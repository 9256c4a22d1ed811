"""The plants that the outside checks are run on: every kind of trouble, alone and in company."""

from dataclasses import dataclass

from farend_sim.unit.profile import Electrical
from line_model.plant import Plant, Section, Tap
from line_model.troubles import Battery, Leak, Reversal, Series, Trouble, Wet

UNIT = Electrical(
    contact_ohm=0.1,
    ground_lead_ohm=0.3,
    series_contact_ohm=0.1,
    receiver_ohm=20e3,
    receiver_farad=10e-9,
    leak_ohm=500e6,
    tone_ohm=600.0,
    tone_farad=1e-6,
    tone_volt=1.0,
    tone_hz=(580.0, 1060.0),
)


@dataclass(frozen=True)
class Case:
    """A plant with what is wrong with it, and how the unit is clipped on."""

    plant: Plant
    troubles: tuple[Trouble, ...] = ()
    turned: bool = False
    grounded: bool = True


_MIXED = Plant(
    section=(
        Section(name="a", gauge_awg=26, length_m=900.0, temperature_c=35.0),
        Section(name="b", gauge_awg=24, length_m=1100.0),
        Section(name="c", diameter_mm=0.9, length_m=400.0, temperature_c=-10.0),
    ),
)
_PLAIN = Plant(section=(Section(gauge_awg=24, length_m=1500.0),))
_TAPS = Plant(
    section=(
        Section(name="a", gauge_awg=22, length_m=700.0),
        Section(name="b", diameter_mm=0.4, length_m=800.0),
    ),
    tap=(
        Tap(name="t", gauge_awg=26, length_m=250.0, at_m=400.0),
        Tap(name="u", gauge_awg=24, length_m=120.0, at_m=700.0),
    ),
    near_earth_ohm=2.0,
    far_earth_ohm=60.0,
)
_UNEVEN = Plant(
    section=(
        Section(gauge_awg=19, length_m=1200.0, unbalance_percent=5.0, unbalance_pf_per_km=2625.0),
        Section(diameter_mm=0.6, length_m=600.0, sheath_ohm_per_km=12.0, mutual_nf_per_km=60.0),
    ),
)

CASES = {
    "mixed gauge and temperature": Case(_MIXED),
    "taps": Case(_TAPS),
    "uneven legs": Case(_UNEVEN),
    "leak with emf": Case(
        _MIXED,
        (
            Leak(kind="leak", between=("tip", "sheath"), at_m=1325.0, ohm=40e3, emf_volt=0.7),
            Leak(kind="leak", between=("tip", "ring"), at_m=900.0, ohm=15e3),
        ),
    ),
    "hard short": Case(_PLAIN, (Leak(kind="leak", between=("ring", "tip"), at_m=600.0, ohm=0.5),)),
    "series": Case(
        _TAPS,
        (
            Series(kind="series", conductor="ring", at_m=700.0, ohm=150.0),
            Series(kind="series", conductor="sheath", at_m=1000.0, ohm=8.0),
        ),
    ),
    "open leg": Case(_PLAIN, (Series(kind="series", conductor="tip", at_m=800.0),)),
    "open sheath": Case(_MIXED, (Series(kind="series", conductor="sheath", at_m=1500.0),)),
    "battery": Case(
        _PLAIN,
        (
            Battery(kind="battery", conductor="tip", at_m=500.0, volt=-50.0, ohm=5e3),
            Battery(kind="battery", conductor="ring", at_m=1500.0, volt=20.0, ohm=80e3),
        ),
    ),
    "wet": Case(
        _MIXED,
        (
            Wet(kind="wet", between=("tip", "ring"), from_m=300.0, to_m=360.0, ohm_km=2000.0),
            Wet(kind="wet", between=("ring", "sheath"), from_m=330.0, to_m=1000.0, ohm_km=9000.0),
        ),
    ),
    "reversal before a leak": Case(
        _UNEVEN,
        (
            Reversal(kind="reversal", at_m=700.0),
            Leak(kind="leak", between=("ring", "sheath"), at_m=1000.0, ohm=3e3, emf_volt=-0.4),
        ),
    ),
    "unit turned about": Case(
        _TAPS,
        (Leak(kind="leak", between=("tip", "sheath"), at_m=200.0, ohm=1e4),),
        turned=True,
    ),
    "no ground lead": Case(_PLAIN, grounded=False),
    "all at once": Case(
        _TAPS,
        (
            Series(kind="series", conductor="tip", at_m=0.0, ohm=12.0),
            Leak(kind="leak", between=("tip", "sheath"), at_m=400.0, ohm=2e5, emf_volt=0.9),
            Reversal(kind="reversal", at_m=700.0),
            Wet(kind="wet", between=("tip", "sheath"), from_m=800.0, to_m=1200.0, ohm_km=5e4),
            Battery(kind="battery", conductor="ring", at_m=1300.0, volt=-48.0, ohm=2e4),
        ),
    ),
}
