"""Physical constants of the line, each with its source."""

from line_model.sourced import Sourced

COPPER_OHM_MM2_PER_M = Sourced(
    1 / 58,
    "ohm mm2/m",
    "annealed copper at 20 C: IEC 60028 (1925), NBS Handbook 100 (1966) sec. 1.1, from memory",
)
COPPER_TEMPCO_PER_C = Sourced(
    0.00393,
    "1/C",
    "annealed copper at 20 C, constant mass: NBS Handbook 100 (1966), from memory",
)
SHEATH_TEMPCO_PER_C = Sourced(
    0.0040,
    "1/C",
    "8 mil aluminium shield: 7 CFR 1755.403(a)(5)(iv)",
)
REFERENCE_C = Sourced(20.0, "C", "the temperature of the figures above")

AWG_36_MM = Sourced(0.127, "mm", "diameter of 36 AWG: ASTM B258, from memory")
AWG_RATIO = Sourced(92.0, "1", "0000 AWG over 36 AWG, in 39 steps: ASTM B258, from memory")

METRES_PER_FOOT = Sourced(0.3048, "m", "exact: the international foot of 1959")
FOOT_M = METRES_PER_FOOT.value
