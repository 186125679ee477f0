"""An answer at the counter: one sentence with its figure, what stands behind it, and how far it holds."""

from dataclasses import dataclass

from model.ledger import Row


class NotApplicableError(Exception):
    """A question that a scenario has no answer to; its text says why, and what to add to the file."""


@dataclass(frozen=True)
class Figure:
    """The figure of an answer."""

    value: float
    """The figure, not rounded. [unit]"""
    unit: str
    """Its unit, as it stands in the sentence."""


@dataclass(frozen=True)
class Flip:
    """Where the input that a question is about turns its answer, all others held."""

    input: str
    """The input, in words."""
    unit: str
    """Its unit."""
    today: float
    """As it is now. [unit]"""
    value: float | None
    """Where the answer turns; None where it does not in the range looked at. [unit]"""
    sentence: str
    """The same in a sentence."""


@dataclass(frozen=True)
class Chance:
    """In which share of the trials an answer holds."""

    share: float
    """Share of the trials. [-]"""
    standard_error: float
    """How far the share would move with other trials. [-]"""
    trials: int
    """How many trials."""
    seed: int
    """Seed of their random numbers."""
    sentence: str
    """The same in a sentence."""


@dataclass(frozen=True)
class RowBehind:
    """A row of a ledger behind an answer."""

    whose: str
    """The engine, or the choice, whose row it is."""
    row: Row
    """The row."""


@dataclass(frozen=True)
class Answer:
    """What is answered to one question."""

    sentence: str
    """The answer with its figure."""
    plain: str
    """The same, short, for a listener who knows nothing of discounting."""
    figure: Figure | None
    """The figure; None where the question does not apply."""
    reasons: tuple[str, ...] = ()
    """Two to four lines of reasoning, with their figures."""
    flip_point: Flip | None = None
    """Where the answer turns; None where nothing can turn it."""
    chance: Chance | None = None
    """How sure it is; None where nothing varies from trial to trial."""
    caution: str | None = None
    """What to heed, where something is."""
    rows: tuple[RowBehind, ...] = ()
    """The ledger's rows behind the figure."""
    question: str = ""
    """Short name of the question."""

    @property
    def applies(self) -> bool:
        """Whether the scenario has an answer; else the sentence says why not."""
        return self.figure is not None
