"""What every table of a file has in common: frozen, unknown keys refused, fields documented by their docstrings."""

from collections.abc import Callable, Iterable, Sequence
from typing import Annotated, Self

from pydantic import AfterValidator, BaseModel, ConfigDict, Strict, model_validator

from model.inputs.docstrings import docstrings_of
from model.inputs.problems import Refusal, on_one_line, on_several_lines, refuse, shown

Rule = Callable[[], list[Refusal]]
"""A rule between the fields of one table."""


Flag = Annotated[bool, Strict()]
"""true or false; nothing else stands for either."""

Text = Annotated[str, AfterValidator(on_one_line)]
"""Text on one line: a title, the name of a file."""

Note = Annotated[str, AfterValidator(on_several_lines)]
"""Text that may have several lines, as TOML's own between three quotes."""


class Table(BaseModel):
    """A table of a scenario or engine file as checked data."""

    model_config = ConfigDict(
        extra="forbid",
        frozen=True,
        populate_by_name=True,
        hide_input_in_errors=True,
        defer_build=True,  # by itself where it is asked for; most are only parts of others
    )

    @classmethod
    def __pydantic_init_subclass__(cls, **more: object) -> None:
        """Describe every field by its docstring; pydantic's own way reads the source anew for each table, at 3 ms."""
        for name, told in docstrings_of(cls.__module__).get(cls.__name__, {}).items():
            if name in cls.model_fields and cls.model_fields[name].description is None:
                cls.model_fields[name].description = told

    def rules(self) -> Iterable[Rule]:
        """Rules between the fields, each by itself: where some fields are wrong, those of the others are still run."""
        return ()

    @model_validator(mode="after")
    def check_rules(self) -> Self:
        """Every rule, with all refusals at once."""
        refuse([refusal for rule in self.rules() for refusal in rule()])
        return self


def out_of_order(at: str, points: Sequence[tuple[float, float]], what: str, fewest: int = 2) -> list[Refusal]:
    """Refusals of a table of points that is too short or whose first column does not rise."""
    found: list[Refusal] = []
    if len(points) < fewest:
        found.append(Refusal((at,), f"{len(points)} given", f"at least {fewest} points of {what}"))
    for index in range(1, len(points)):
        if points[index][0] <= points[index - 1][0]:
            found.append(
                Refusal(
                    (at, index),
                    f"{shown(list(points[index]))} after {shown(list(points[index - 1]))}",
                    f"{what}, each first number above the one before",
                )
            )
    return found


def named_twice(at: str, names: Sequence[str]) -> list[Refusal]:
    """Refusals of names that stand twice in an array of tables."""
    first = {name: index for index, name in reversed(list(enumerate(names)))}
    return [
        Refusal((at, index, "name"), f"{shown(name)} a second time", "a name of its own for each")
        for index, name in enumerate(names)
        if first[name] < index
    ]
