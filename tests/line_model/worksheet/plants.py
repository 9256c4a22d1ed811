"""Two records that the worksheet's tests share: three sections with a tap, and one section."""

from line_model.plant import Plant, Section, Tap

MIXED = Plant(
    section=(
        Section(gauge_awg=24, length_m=1200.0),
        Section(gauge_awg=26, length_m=700.0),
        Section(diameter_mm=0.6, length_m=300.0),
    ),
    tap=(Tap(name="T", gauge_awg=24, length_m=150.0, at_m=900.0),),
)
ONE = Plant(section=(Section(gauge_awg=24, length_m=3000.0, lay_percent=0.0),))
