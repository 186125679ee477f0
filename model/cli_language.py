"""The option --language of every command: what a command says, it says in that language."""

import inspect
from collections.abc import Callable
from enum import StrEnum
from functools import wraps
from typing import Annotated, Any, TypeVar, cast

import typer

from model.language import LANGUAGES, speaking


class Language(StrEnum):
    """Languages of `LANGUAGES`, as the command line takes them."""

    ENGLISH = "en"
    SPANISH = "es"


LanguageOption = Annotated[
    Language,
    typer.Option("--language", help=f"Language of sentences and tables: {', '.join(LANGUAGES.values())}."),
]


Command = TypeVar("Command", bound=Callable[..., Any])


class Commands(typer.Typer):
    """A group of commands, each of which takes --language."""

    def command(self, name: str | None = None, **settings: Any) -> Callable[[Command], Command]:
        """Register a command as typer does, with the option added."""
        register = super().command(name, **settings)
        return lambda command: register(in_language(command))


def in_language(command: Command) -> Command:
    """
    A command that runs in the language of its option --language.

    Parameters
    ----------
    command : function
        With typer's annotations.

    Returns
    -------
    function
        The same, with one keyword more.
    """

    @wraps(command)
    def speak(*args: Any, language: Language = Language.ENGLISH, **options: Any) -> Any:
        with speaking(language.value):
            return command(*args, **options)

    own = inspect.signature(command)
    option = inspect.Parameter(
        "language", inspect.Parameter.KEYWORD_ONLY, default=Language.ENGLISH, annotation=LanguageOption
    )
    speak.__signature__ = own.replace(parameters=[*own.parameters.values(), option])  # type: ignore[attr-defined]
    return cast(Command, speak)
