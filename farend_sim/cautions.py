"""The cautions on every drill: local codes and licensed practice come first."""

FIRST = (
    "Simulator: no reading here proves a real pair safe; "
    "local codes and licensed practice come first."
)
CAUTIONS = (
    "Presume a pair live until it is measured; prove the meter on a known source before and after.",
    "Foreign voltage first, DC and AC, on all three pairs of terminals. Over your limit: stop, "
    "back off, report.",
    "Ringing and line-powered pairs shock. No testing in lightning. Receiver off the ear on an "
    "unknown pair.",
    "Never open, strap or ground a working, alarm, medical, emergency or marked circuit: check the "
    "record and listen first. Keys may be dialled by an office.",
    "People and equipment off the far end before an insulation test; discharge after it.",
    "Ground first on, last off. Bond across a sheath before it is opened. Gas test; gloves.",
    "Confirm that the unit has let go before you leave.",
)
"""Common practice, no source; they stand for no code."""
