"""A visitor without a screen: knows the pages' parts and callbacks, and asks the server what a browser would ask."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from typing import Any

Part = tuple[str, str]
"""Id of a component and the name of one of its properties."""

Ask = Callable[[str, Any], Any]
"""An address below the server's own and a body (None: nothing is sent) -> the answer, out of JSON."""

LAYOUT, DEPENDENCIES, UPDATE = "_dash-layout", "_dash-dependencies", "_dash-update-component"
"""Where the server tells of its parts and callbacks, and where it answers them."""


@dataclass(frozen=True)
class Callback:
    """What is asked of the server when something changes."""

    output: str
    """Its name."""
    outputs: tuple[Part, ...]
    """What it sets."""
    inputs: tuple[Part, ...]
    """What sets it off."""
    states: tuple[Part, ...]
    """What else it is told."""
    at_start: bool
    """Whether it is asked as soon as what it sets is there."""

    def body(self, known: dict[str, dict[str, Any]], changed: Iterable[Part]) -> dict[str, Any]:
        """The request, as the browser words it."""
        causes = [".".join(part) for part in changed if part in self.inputs]
        outputs = [{"id": name, "property": prop} for name, prop in self.outputs]
        return {
            "output": self.output,
            "outputs": outputs if self.output.startswith("..") else outputs[0],
            "inputs": [_told(part, known) for part in self.inputs],
            "changedPropIds": causes,
            "parsedChangedPropsIds": causes,
            "state": [_told(part, known) for part in self.states],
        }


def _told(part: Part, known: dict[str, dict[str, Any]]) -> dict[str, Any]:
    """A value as a request tells it; one that was never set is left out."""
    name, prop = part
    told = {"id": name, "property": prop}
    return told | ({"value": known[name][prop]} if prop in known.get(name, {}) else {})


def callbacks_of(dependencies: Iterable[dict[str, Any]]) -> tuple[Callback, ...]:
    """
    The callbacks that the server answers, those of single parts.

    Parameters
    ----------
    dependencies : iterable of dict
        As the server tells them; what runs in the browser and what goes for many parts at once is left out.

    Returns
    -------
    tuple of Callback
    """
    found = []
    for told in dependencies:
        parts = [told["output"], *(part["id"] for part in [*told["inputs"], *told["state"]])]
        if told.get("clientside_function") or any("{" in part for part in parts):
            continue
        names = told["output"].strip(".").split("...")
        outputs, inputs, states = (
            tuple(tuple(name.rsplit(".", 1)) for name in names),
            *(tuple((part["id"], part["property"]) for part in told[kind]) for kind in ("inputs", "state")),
        )
        found.append(Callback(told["output"], outputs, inputs, states, told["prevent_initial_call"] is False))
    return tuple(found)


def components(part: Any) -> Iterator[dict[str, Any]]:
    """Every component in a part of a page, in JSON's form."""
    if isinstance(part, list):
        for item in part:
            yield from components(item)
    elif isinstance(part, dict):
        if "props" in part and "namespace" in part:
            yield part["props"]
        for item in part.values():
            yield from components(item)


@dataclass
class Visitor:
    """One user's browser."""

    ask: Ask
    """How it reaches the server."""
    known: dict[str, dict[str, Any]] = field(default_factory=dict)
    """Properties of everything on the page, by id."""
    callbacks: tuple[Callback, ...] = ()
    """What the server answers."""
    together: Callable[[Ask, Iterable[str], Iterable[Any]], Iterable[Any]] = map
    """Asks several things; one after the other, unless it knows better."""

    def open(self) -> None:
        """Open the first page, and hear all that it asks for."""
        self._learn(self.ask(LAYOUT, None))
        self.callbacks = callbacks_of(self.ask(DEPENDENCIES, None))
        if self.known["work"].get("data") is None:  # not laid out with what a first view shows
            start = self.known["start"]["data"]
            self.change({("work", "data"): start, ("drafts", "data"): {}, ("scheme", "data"): "light"})
            self.change({("settled", "data"): 1, ("visible", "data"): "/"})

    def change(self, values: dict[Part, Any]) -> None:
        """Set properties, and ask all that follows from it, the answers' own consequences too."""
        for (name, prop), value in values.items():
            self.known.setdefault(name, {})[prop] = value
        asked = [call for call in self.callbacks if self._is_due(call, values)]
        bodies = [callback.body(self.known, values) for callback in asked]
        for answer in list(self.together(self.ask, [UPDATE] * len(bodies), bodies)):
            self._take(answer)

    def _is_due(self, callback: Callback, changed: Iterable[Part]) -> bool:
        """Whether a change sets a callback off, and what it sets is on the page."""
        return any(part in callback.inputs for part in changed) and all(
            name in self.known for name, _ in callback.outputs
        )

    def _take(self, answer: dict[str, Any] | None) -> None:
        """Set what an answer says; new parts become known."""
        for name, told in ((answer or {}).get("response") or {}).items():
            self._learn(told)
            self.change({(name, prop.partition("@")[0]): value for prop, value in told.items()})

    def _learn(self, part: Any) -> None:
        """Take note of the components in a part of a page."""
        for props in components(part):
            if isinstance(props.get("id"), str):
                self.known[props["id"]] = dict(props)
