"""What `hold design` says: the whole answer to how long one hold must be."""

from farend_sim.answers.answer import Answer
from farend_sim.hold_lab.asked import Asked
from farend_sim.hold_lab.design_figures import figures_of
from farend_sim.hold_lab.design_tables import cost_plot, done_plot, tables_of
from farend_sim.hold_lab.designed import designed

MODEL = (
    "Model: a command costs c; deaf, the expected time until the next command is (c + h) / F(h) "
    "for a hold h, where F is the share of readings that fit. Where the unit hears, a release ends "
    "the hold: a try costs c + X + r, and the hold is a safety stop that 99 % fit in. Over jobs "
    "that differ it is the mean over jobs, with a hold dialled in earnest after so many misses in "
    "a row (--patience). Whether the unit hears comes from the line on the stated plant."
)


def design_answer(asked: Asked) -> Answer:
    """Design a hold and put all there is to say about it."""
    found = designed(asked)
    return Answer(
        title=f"A hold for {asked.title}, {asked.function}",
        figures=figures_of(found),
        tables=tuple(tables_of(found)),
        plots=(cost_plot(found), done_plot(found)),
        warnings=found.warnings,
        notes=(MODEL,),
    )
