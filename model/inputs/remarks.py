"""What is allowed but worth a word: odd mixtures, and what was left out and so costs nothing."""

from model.inputs.engine import Engine
from model.inputs.scenario import Scenario
from model.inputs.terms import Servicing
from model.language import say

SHARE_TOLD = 0.02
"""Share of the hours of a read-out above the last fuel point from which on it is told. [-]"""


def warnings_of(scenario: Scenario) -> tuple[str, ...]:
    """
    What is allowed but unusual in a scenario.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    tuple of str
        A sentence each.
    """
    told = []
    measured = [engine.name for engine in scenario.engines if engine.fuel.points]
    estimated = [engine.name for engine in scenario.engines if not engine.fuel.points]
    if measured and estimated:
        told.append(
            say(
                "Measured and estimated fuel are compared: points are given for {measured}, the flow of {estimated} is "
                "an estimate.",
                measured=", ".join(measured),
                estimated=", ".join(estimated),
            )
        )
    for engine in scenario.engines:
        above = _share_above(scenario, engine)
        if above > SHARE_TOLD:
            told.append(
                say(
                    "{engine}: {share} % of the read-out's hours lie above the last fuel point and are counted at it.",
                    engine=engine.name,
                    share=f"{100 * above:.0f}",
                )
            )
        if engine.offered == "used" and engine.start is None:
            told.append(
                say(
                    "{engine}: offered used, but without its hours and age, so it is counted as new.",
                    engine=engine.name,
                )
            )
    return tuple(told)


def _share_above(scenario: Scenario, engine: Engine) -> float:
    """Share of a read-out's hours above the engine's last fuel point. [-]"""
    read_out = scenario.use.read_out
    if read_out is None:
        return 0.0
    top = (engine.fuel.points[-1][0] if engine.fuel.points else 1.0) * read_out.rated_speed
    total = sum(hours for _, _, hours in read_out.bins)
    above = sum(hours for low, high, hours in read_out.bins if 0.5 * (low + high) > top * (1 + 1e-9))
    return above / total if total > 0 else 0.0


def left_out_of(scenario: Scenario) -> tuple[str, ...]:
    """
    Tables that were left out, and what that means for the sums.

    Parameters
    ----------
    scenario : Scenario

    Returns
    -------
    tuple of str
        A sentence each.
    """
    told = []
    money = scenario.money
    if money.discount_rate is None and money.real_discount_rate is None:
        told.append(say("No discount rate: later money counts like money at delivery."))
    if "inflation" not in money.model_fields_set:
        told.append(say("No inflation: prices stay as at delivery unless a growth of their own is given."))
    if scenario.prices.labour == 0.0 and "labour" not in scenario.prices.model_fields_set:
        told.append(say("No price of labour: workshop labour costs nothing."))
    told += [
        say(
            "{engine}: the extension of cover is not counted: no cover stands with the servicing as it is stated.",
            engine=engine.name,
        )
        for engine in scenario.engines
        if engine.warranty and scenario.cover_terms(engine) is None
        if engine.warranty.extension and engine.warranty.extension.bought
    ]
    if scenario.downtime is None and _days_are_lost(scenario):
        told.append(say("No cost of a day without the boat is stated: days lost cost nothing."))
    for engine in scenario.engines:
        told += [f"{engine.name}: {sentence}" for sentence in _left_out_of_engine(scenario, engine)]
    return tuple(told)


def _days_are_lost(scenario: Scenario) -> bool:
    """Whether any engine states days lost, in repairs or visits."""
    return any(
        any(mode.days_lost > 0 for mode in engine.repair)
        or (engine.service is not None and engine.service.visit_days > 0)
        for engine in scenario.engines
    )


def _left_out_of_engine(scenario: Scenario, engine: Engine) -> list[str]:
    """Tables that one engine does without."""
    told = []
    if engine.oil is None and engine.technology.is_two_stroke:
        told.append(say("no two-stroke oil is stated, so it costs nothing."))
    if engine.service is None and scenario.servicing is not Servicing.SKIPPED:
        told.append(say("no service plan is stated, so servicing costs nothing."))
    if not engine.repair:
        told.append(say("no failures are stated, so repairs cost nothing."))
    if engine.warranty is None and engine.repair:
        told.append(say("no written warranty is stated, so the owner pays every repair."))
    if engine.resale is None:
        told.append(say("no resale value is stated, so it is worth nothing at the end."))
    return told
