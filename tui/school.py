"""Who works here, and the class book that drills are entered into, if there is one."""

from dataclasses import dataclass
from pathlib import Path

from farend_sim.drill.work.attempt import Attempt
from farend_sim.errors import BadFileError


@dataclass(slots=True)
class School:
    """A class book and a trainee; either may be missing."""

    class_file: Path | None = None
    trainee: str | None = None

    @property
    def asks(self) -> bool:
        """Whether there is a class book and nobody has said who works here."""
        return self.class_file is not None and self.trainee is None

    def enter(self, attempt: Attempt) -> str:
        """Enter an attempt; returns what there is to say about it."""
        if self.class_file is None or self.trainee is None:
            return ""
        from farend_sim.drill.book.class_book import ClassBook

        try:
            with ClassBook.open(self.class_file) as book:
                book.enter(self.trainee, attempt)
        except BadFileError as error:
            return f"NOT entered into the class book: {error}"
        return f"Entered into the class book, for {self.trainee}."


def told_of_class(file: Path) -> str:
    """All that a class book tells, in plain text.

    Raises:
        BadFileError: there is no such book.
    """
    from farend_sim.answers.text import answer_text
    from farend_sim.drill.book.class_answer import class_answer
    from farend_sim.drill.book.class_book import ClassBook

    with ClassBook.open(file, create=False) as book:
        return "\n".join(answer_text(class_answer(book)))
