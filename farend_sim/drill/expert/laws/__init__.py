"""The laws of near-end instruments as the expert knows them, a file a family.

To add a family: a class with the face of base.py, and a line here.
"""

from collections.abc import Mapping

from farend_sim.drill.expert.laws.base import Asked, Law, Seen
from farend_sim.drill.expert.laws.bridge import BridgeLaw
from farend_sim.drill.expert.laws.direct import DirectLaw
from farend_sim.drill.expert.laws.farads import FaradLaw
from farend_sim.drill.expert.looks import Look, Setting
from farend_sim.unit.profile import Electrical
from line_model.meters.bridge import Bridge
from line_model.meters.capacitance import Capacitance
from line_model.meters.cycle import MeterFile
from line_model.meters.ohms import Ohms
from line_model.meters.volts import Volts

__all__ = ["Asked", "Law", "Seen", "has_law", "law_of", "laws", "tells"]


def law_of(profile: MeterFile, unit: Electrical) -> Law | None:
    """A meter's law; None if the expert has none for its kind."""
    if isinstance(profile, Ohms | Volts):
        return DirectLaw(profile, unit)
    if isinstance(profile, Bridge):
        return BridgeLaw(profile, unit)
    if isinstance(profile, Capacitance):
        return FaradLaw(profile, unit)
    return None


def laws(meters: Mapping[str, MeterFile], unit: Electrical) -> dict[str, Law]:
    """The laws of those meters that have one."""
    each = {name: law_of(profile, unit) for name, profile in meters.items()}
    return {name: law for name, law in each.items() if law is not None}


def has_law(known: Mapping[str, Law], setting: Setting) -> bool:
    """Whether what such a meter, so clipped, shows can be weighed; leads turned about or not."""
    law = known.get(setting.meter)
    turned = "-".join(reversed(setting.across.split("-")))
    return law is not None and not {setting.across, turned}.isdisjoint(law.hookups())


def tells(known: Mapping[str, Law], look: Look) -> bool:
    """Whether what was seen says anything: a bridge without balance does not."""
    law = known.get(look.setting.meter)
    return law is not None and law.seen(look) is not None
