"""Random plans, engines, owners and scenarios, as the tables that a file would hold.

Values have few decimals, as people write them, so that limits meet now and then: ties are where walks go wrong.
"""

from datetime import date
from typing import Any

from hypothesis import settings
from hypothesis import strategies as st

from model.inputs.scenario import Scenario

File = dict[str, Any]

settings.register_profile("sums", deadline=None, max_examples=50, print_blob=True)
QUICK = settings.get_profile("sums")
"""Settings of the property tests: compiled code makes the first example slow, so none has a deadline."""

MONEY = st.integers(0, 2000).map(lambda units: units / 4.0)
SHARES = st.sampled_from([0.0, 0.25, 0.4, 0.5, 0.8, 1.0])
RATES = st.sampled_from([-0.03, 0.0, 0.02, 0.05, 0.08])
YEARS = st.one_of(st.integers(1, 10).map(float), st.sampled_from([0.4, 1.5, 2.25, 4.75, 7.5]))
HOURS_A_YEAR = st.one_of(
    st.sampled_from([0.0, 50.0, 80.0, 100.0, 142.3, 200.0]), st.integers(0, 9000).map(lambda tenths: tenths / 10.0)
)
START = date(2027, 4, 1)
DELIVERIES = st.sampled_from([START, date(2028, 2, 29), date(2027, 12, 31), date(2026, 1, 1)])


def begun_years(years: float) -> int:
    """Ownership years that begin within a period."""
    return -int(-years // 1)


def hours_by_year(years: float) -> st.SearchStrategy[list[float]]:
    """Uneven hours, one for each begun year."""
    return st.lists(HOURS_A_YEAR, min_size=begun_years(years), max_size=begun_years(years))


@st.composite
def intervals(draw: st.DrawFn, base: File | None = None) -> File:
    """A limit of hours, months or both; over a base, of its kinds and not shorter."""
    times = st.sampled_from([1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 6.0])
    base = {"hours": draw(st.sampled_from([40.0, 50.0, 100.0, 150.0])), "months": 12.0} if base is None else base
    kinds = draw(st.lists(st.sampled_from(sorted(base)), min_size=1, unique=True))
    return {kind: base[kind] * draw(times) for kind in kinds}


@st.composite
def tasks(draw: st.DrawFn, name: str, base: File) -> File:
    """A task of the workshop at visits, of the owner, or at lay-up."""
    where = draw(st.sampled_from(["visit", "visit", "visit", "owner", "lay-up"]))
    parts = [{"name": "Part", "quantity": draw(st.sampled_from([1.0, 2.5])), "price": draw(MONEY)}]
    task: File = {"name": name, "parts": parts, "on_condition": draw(SHARES)}
    if where == "owner":
        return {
            **task,
            "by": "owner",
            "every": draw(st.sampled_from([{"hours": 25.0}, {"hours": 50.0, "months": 6.0}])),
        }
    if where == "lay-up":
        return {**task, "at_lay_up": True, "labour": 0.5}
    task |= {"every": draw(intervals(base)), "first": draw(st.booleans())}
    if draw(st.booleans()):
        return {**task, "labour": draw(st.sampled_from([0.0, 0.4, 1.5])), "labour_if_renewed": draw(SHARES)}
    return {key: value for key, value in task.items() if key != "parts"} | {"menu_price": draw(MONEY)}


@st.composite
def plans(draw: st.DrawFn) -> File:
    """A service plan."""
    base = draw(intervals())
    plan: File = {
        "every": base,
        "visit_labour": draw(SHARES),
        "visit_price": draw(MONEY),
        "visit_days": draw(SHARES),
        "labour_factor": draw(st.sampled_from([1.0, 1.2])),
        "lay_up_month": draw(st.integers(1, 12)),
        "task": [draw(tasks(f"Task {number}", base)) for number in range(draw(st.integers(0, 6)))],
    }
    if draw(st.booleans()):
        plan["first"] = draw(st.sampled_from([{"hours": 20.0}, {"hours": 20.0, "months": 1.0}, {"months": 2.0}]))
        plan["count_from"] = draw(st.sampled_from(["new", "first visit"]))
    if draw(st.booleans()):
        plan["top_up"] = {"litres_per_100_hours": draw(SHARES), "price": draw(MONEY)}
    return plan


@st.composite
def failure_modes(draw: st.DrawFn, name: str) -> File:
    """A way to fail."""
    clock = draw(st.sampled_from(["hours", "years"]))
    return {
        "name": name,
        "clock": clock,
        "scale": draw(st.sampled_from([300.0, 1500.0] if clock == "hours" else [2.5, 9.0])),
        "shape": draw(st.sampled_from([0.8, 1.0, 1.5, 3.0])),
        "after": draw(st.sampled_from(["as old", "as new"])),
        "parts_price": draw(MONEY),
        "labour": draw(st.sampled_from([0.0, 1.5, 4.0])),
        "days_lost": draw(st.sampled_from([0.0, 2.0])),
        "not_covered": draw(st.sampled_from([0.0, 90.0])),
    }


@st.composite
def covers(draw: st.DrawFn) -> File:
    """A written warranty: flat, in steps or linear, with or without hours, excess and an extension."""
    months = draw(st.sampled_from([12.0, 30.0, 36.0, 60.0]))
    terms: File = {"months": months, "excess": draw(st.sampled_from([0.0, 0.0, 75.0, 400.0]))}
    if draw(st.booleans()):
        terms["hours"] = draw(st.sampled_from([150.0, 300.0, 1000.0]))
    kind = draw(st.sampled_from(["flat", "steps", "linear"]))
    if kind == "linear":
        terms["decline"] = "linear"
    if kind == "steps":
        terms["steps"] = [
            {"from": 10.0, "parts": 0.8, "labour": 0.5},
            {"from": 24.0, "parts": draw(st.sampled_from([0.0, 0.5])), "labour": 0.0},
        ]
    if draw(st.booleans()):
        extension: File = {"bought": True, "price": draw(MONEY), "months": 24.0, "parts": draw(SHARES)}
        if draw(st.booleans()):
            extension["hours"] = 800.0
        terms["extension"] = extension
    return terms


@st.composite
def engines(draw: st.DrawFn, name: str = "One", used: bool | None = None) -> File:
    """An engine, new or used."""
    two_stroke = draw(st.booleans())
    engine: File = {
        "name": name,
        "technology": "two-stroke direct-injected" if two_stroke else "four-stroke injected",
        "rated_power": 45.0,
        "price": draw(st.integers(2000, 12000).map(float)),
        "list_price": draw(st.integers(2000, 12000).map(float)),
        "trade_in": draw(st.sampled_from([0.0, 500.0])),
        "fit_up": draw(MONEY),
        "fuel": {"points": [[0.12, 0.9], [0.5, draw(st.sampled_from([4.0, 5.5]))], [1.0, 17.0]]},
        "service": draw(plans()),
        "repair": [draw(failure_modes(f"Mode {number}")) for number in range(draw(st.integers(0, 3)))],
        "resale": {
            "by_age": [[0.0, 0.85], [5.0, 0.5], [10.0, 0.3]],
            "normal_hours": 60.0,
            "per_100_hours": 0.02,
            "floor": 0.05,
        },
    }
    if draw(st.booleans()):
        engine["warranty"] = draw(covers())
    if two_stroke:
        engine["oil"] = {"ratio": 80.0, "break_in": {"hours": 10.0, "factor": 2.0}}
    if draw(st.booleans()):
        months = draw(st.sampled_from([7, 24, 60]))
        engine["finance"] = {"deposit": draw(SHARES), "rate": draw(st.sampled_from([0.0, 0.06])), "months": months}
    if draw(st.booleans()) if used is None else used:
        age = draw(st.sampled_from([0.5, 2.0, 4.0, 11.0]))
        engine["start"] = {"meter_hours": age * draw(st.sampled_from([0.0, 40.0, 75.0, 210.0])), "age": age}
    return engine


@st.composite
def files(draw: st.DrawFn, of_engines: st.SearchStrategy[File] | None = None) -> File:
    """A whole scenario with one engine, as its file would hold it."""
    years = draw(YEARS)
    return {
        "ownership": {
            "years": years,
            "delivery": draw(DELIVERIES),
            "service_at_handover": draw(st.booleans()),
        },
        "use": {
            "hours_by_year": draw(hours_by_year(years)),
            "per_boat": draw(st.integers(1, 2)),
            "share_with_one_left": 0.5,
        },
        "prices": {"fuel": draw(st.sampled_from([0.0, 1.85])), "two_stroke_oil": 12.0, "labour": draw(MONEY)},
        "money": {
            "inflation": draw(RATES),
            "discount_rate": draw(RATES),
            "timing": draw(st.sampled_from(["mid-year", "year-end"])),
            "growth": draw(st.sampled_from([{}, {"fuel": 0.04, "labour": 0.0, "parts": 0.03}])),
        },
        "downtime": {"day_cost": draw(st.sampled_from([0.0, 120.0]))},
        "engines": [draw(engines() if of_engines is None else of_engines)],
    }


def changed(table: Any, path: tuple[str | int, ...], value: Any) -> Any:
    """A copy of a file's table with one value put in or, with None, taken out."""
    if isinstance(table, list):
        (place, rest) = (int(path[0]), path[1:])
        return [changed(item, rest, value) if i == place else item for i, item in enumerate(table)]
    step, rest = path[0], path[1:]
    if rest:
        return {**table, step: changed(table[step], rest, value)}
    return {key: kept for key, kept in table.items() if key != step} | ({} if value is None else {step: value})


def scenario(file: File) -> Scenario:
    """The checked scenario of a file."""
    return Scenario.model_validate(file)


def scenarios() -> st.SearchStrategy[Scenario]:
    """Checked scenarios with one engine."""
    return files().map(scenario)


def with_plan(plan: File, years: float, hours: list[float], **engine: Any) -> Scenario:
    """A scenario of which only the service plan matters."""
    return scenario(
        {
            "ownership": {"years": years, "delivery": START},
            "use": {"hours_by_year": hours},
            "prices": {"fuel": 1.0, "labour": 80.0},
            "engines": [
                {"name": "One", "technology": "four-stroke injected", "rated_power": 45.0, "price": 9000.0}
                | ({"list_price": 9000.0} if "start" in engine else {})
                | {"service": plan}
                | engine
            ],
        }
    )
