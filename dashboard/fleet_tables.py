"""Tables of a fleet: the budget by year, element, site and technology; what is due; policies; units."""

from dash import html

from dashboard.figures.fleet_budget import held_in, shown
from dashboard.figures.policies_saved import in_words, saved
from dashboard.fleet_answers import FleetAnswer
from dashboard.tables import Cell, Column, Row, table
from model.fleet.budget import CONTINGENCY_SHARE, SHARES
from model.fleet.cash import ELEMENTS
from model.fleet.lives_told import age_told, best_told, span_told
from model.fleet.replacement import Due, waits
from model.fleet.reports import ALL_YEARS, part_spread_rows, year_of
from model.fleet.rules_told import element_told, year_told
from model.fleet.workbook import Sheet
from model.fleet_titles import part_told
from model.language import say
from model.questions.saying import capital
from model.wording import plain, whole

MOST_ROWS = 1000
"""Units shown; a table of more is no reading, and the spreadsheet holds all."""


def money(amount: float) -> Cell:
    """An amount as a whole number, with all its digits for a file."""
    return Cell(whole(amount), amount)


def number(value: float, digits: int = 0) -> Cell:
    """A number with so many decimals, all its digits for a file."""
    return Cell(plain(round(value, digits)), value)


def years_table(answer: FleetAnswer) -> html.Div:
    """The budget by year with its spread and contingency."""
    fleet, budget = answer.fleet, answer.budget
    columns = [
        Column(say("Year")),
        Column(say("Expected, {currency}", currency=fleet.file.currency), is_number=True),
        Column(say("Standard error"), is_number=True),
        *(Column(held_in(share), is_number=True) for share in SHARES),
        Column(say("Contingency"), is_number=True),
    ]
    rows: list[Row] = [
        [
            year_told(fleet, year),
            money(float(budget.expected[year])),
            money(float(budget.standard_errors[year])),
            *(money(float(budget.quantile(share)[year])) for share in SHARES),
            money(float(budget.contingency[year])),
        ]
        for year in range(fleet.terms.horizon)
    ]
    return table(say("The budget by year"), columns, rows)


def parts_table(answer: FleetAnswer) -> html.Div:
    """The expected budget by element, site and technology, a column for each year."""
    fleet, budget = answer.fleet, answer.budget
    by_element = {element_told(element): budget.by_element[ELEMENTS.index(element)] for element in shown(budget)}
    by_site = {name or say("No site named"): cash for name, cash in budget.by_site.items()}
    by_technology = {capital(say(name)): cash for name, cash in budget.by_technology.items()}
    years = range(fleet.terms.horizon)
    columns = [
        Column(say("Part of the budget")),
        Column(say("By")),
        *(Column(year_told(fleet, year), is_number=True) for year in years),
        Column(say("All years"), is_number=True),
    ]
    rows: list[Row] = [
        [name, by, *(money(float(cash[year])) for year in years), money(float(cash.sum()))]
        for by, parts in (
            (say("element"), by_element),
            (say("site"), by_site),
            (say("technology"), by_technology),
        )
        for name, cash in parts.items()
    ]
    total: Row = [say("Expected"), "", *(money(float(budget.expected[year])) for year in years),
                  money(float(budget.expected.sum()))]  # fmt: skip
    name = say("The expected budget by element, site and technology, {currency}", currency=fleet.file.currency)
    return table(name, columns, rows, [total])


def spread_table(answer: FleetAnswer) -> html.Div:
    """What each element, site and technology takes to hold in 80 % of the trials, by year and over all of them."""
    fleet = answer.fleet
    years = range(fleet.terms.horizon)
    columns = [
        Column(say("Part of the budget")),
        Column(say("By")),
        *(Column(year_told(fleet, year), is_number=True) for year in years),
        Column(say("All years"), is_number=True),
    ]
    names = {"element": say("element"), "site": say("site"), "technology": say("technology")}
    rows: list[Row] = [
        [
            part_told(row["by"], row["part"]),
            names[row["by"]],
            *(money(row[str(year_of(fleet, year))]) for year in years),
            money(row[ALL_YEARS]),
        ]
        for row in part_spread_rows(fleet, answer.budget, (CONTINGENCY_SHARE,))
    ]
    title = say("What holds in 80 % of the trials, by element, site and technology; their dear years differ")
    return table(title, columns, rows)


def due_table(answer: FleetAnswer) -> html.Div:
    """Units whose engine goes, by year, with the reason; what waits, until when."""
    fleet = answer.fleet
    waited = {(wait.first.place, wait.until): wait.first.year for wait in waits(answer.plan)}
    columns = [
        Column(say("Year")),
        Column(say("Unit")),
        Column(say("Site")),
        Column(say("Engine")),
        Column(say("Replaced by")),
        Column(say("Reason")),
        Column(say("Price and fit-up, {currency}", currency=fleet.file.currency), is_number=True),
        Column(say("Put off since")),
    ]

    def row(due: Due, year: str, since: int | None) -> Row:
        unit = fleet.units[due.place]
        put_off = "" if since is None else year_told(fleet, since)
        return [year, unit.name, unit.site, due.gone, due.engine, due.reason, money(due.capital), put_off]

    bought = sorted(answer.plan.bought, key=lambda due: (due.year, due.place))
    rows = [row(due, year_told(fleet, due.year), waited.get((due.place, due.year))) for due in bought]
    rows += [
        row(wait.first, say("after the last year"), wait.first.year)
        for wait in waits(answer.plan)
        if wait.until is None
    ]
    return table(say("Units due, by year"), columns, rows, is_sorted=True)


def put_off_table(answer: FleetAnswer) -> html.Div:
    """Units that the yearly limit makes wait: since when, until when, and what that costs."""
    fleet = answer.fleet
    columns = [
        Column(say("Unit")),
        Column(say("Site")),
        Column(say("Engine")),
        Column(say("Reason")),
        Column(say("Due in")),
        Column(say("Waits until")),
        Column(say("Replacements that wait"), is_number=True),
        Column(say("Waiting costs, {currency} in present value", currency=fleet.file.currency), is_number=True),
    ]
    rows: list[Row] = [
        [
            fleet.units[one.first.place].name,
            fleet.units[one.first.place].site,
            one.first.gone,
            one.first.reason,
            year_told(fleet, one.first.year),
            say("after the last year") if one.until is None else year_told(fleet, one.until),
            number(one.times),
            money(one.costs),
        ]
        for one in answer.put_off
    ]
    return table(say("Units put off by the yearly limit"), columns, rows, is_sorted=True)


def policies_table(answer: FleetAnswer) -> html.Div:
    """Policies compared with today's."""
    found, currency = answer.policies, answer.fleet.file.currency
    columns = [
        Column(say("Replaced")),
        Column(say("Present value, {currency}", currency=currency), is_number=True),
        Column(say("Saves against today's"), is_number=True),
        Column(say("Replacements"), is_number=True),
        Column(say("Units put off"), is_number=True),
        Column(say("The limit costs"), is_number=True),
    ]
    rows: list[Row] = [
        [
            in_words(found, place),
            money(one.cost),
            money(saves),
            number(len(one.plan.bought)),
            number(len(one.put_off)),
            money(one.cost - one.cost_without_limit),
        ]
        for place, (one, saves) in enumerate(zip(found, saved(found), strict=True))
    ]
    return table(say("What each policy costs and saves"), columns, rows)


def lives_table(answer: FleetAnswer) -> html.Div:
    """The best age of every candidate at the hours of its boats."""
    currency = answer.fleet.file.currency
    columns = [
        Column(say("Engine")),
        Column(say("Hours a year"), is_number=True),
        Column(say("Best age"), is_number=True),
        Column(say("At most 2 % more")),
        Column(say("{currency} a year", currency=currency), is_number=True),
        Column(say("Best meter reading, h"), is_number=True),
    ]
    rows: list[Row] = []
    for one in answer.lives:
        meter = "" if one.best_meter is None else number(one.best_meter.meter_hours)
        best = Cell(best_told(one.life), one.life.best_age)
        rows.append([one.name, number(one.hours, 1), best, span_told(one.life), money(min(one.life.costs)), meter])
    return table(say("The best age of each engine that may be bought"), columns, rows)


def moves_table(answer: FleetAnswer) -> html.Div:
    """How the best age of every candidate moves with its hours a year."""
    columns = [
        Column(say("Engine")),
        Column(say("Hours a year"), is_number=True),
        Column(say("Best age"), is_number=True),
    ]
    rows: list[Row] = [
        [one.name, number(hours), Cell(age_told(one.life, age), age)]
        for one in answer.lives
        for hours, age in one.by_hours
    ]
    return table(say("How the best age moves with hours"), columns, rows)


def units_table(answer: FleetAnswer, site: str | None) -> html.Div:
    """
    The units on the first budget day, with their next new engine.

    Parameters
    ----------
    answer : FleetAnswer
    site : str or None
        The one whose units are shown; None for all.
    """
    fleet, following = answer.fleet, dict[int, Due]()
    for due in sorted(answer.plan.bought, key=lambda due: -due.year):
        following[due.place] = due
    columns = [
        Column(say("Unit")),
        Column(say("Site")),
        Column(say("Engine")),
        Column(say("Engines"), is_number=True),
        Column(say("Age, years"), is_number=True),
        Column(say("Meter, h"), is_number=True),
        Column(say("Hours a year"), is_number=True),
        Column(say("Variation of hours, %"), is_number=True),
        Column(say("Next new engine")),
        Column(say("Note")),
    ]
    chosen = [(place, unit) for place, unit in enumerate(fleet.units) if site is None or unit.site == site]
    rows: list[Row] = [
        [
            unit.name,
            unit.site,
            unit.engine,
            number(unit.count),
            number(unit.age, 1),
            number(unit.meter_hours),
            number(unit.hours_per_year, 1),
            number(100.0 * unit.variation),
            year_told(fleet, following[place].year) if place in following else "",
            unit.note,
        ]
        for place, unit in chosen[:MOST_ROWS]
    ]
    return table(say("Units on the first budget day"), columns, rows, is_sorted=True)


def sheets(answer: FleetAnswer) -> dict[str, Sheet]:
    """The same tables as the command line saves, for a spreadsheet."""
    from model.fleet.budgeted import Budgeted
    from model.fleet.sheets import budget_sheets, life_sheets, plan_sheets

    found = budget_sheets(answer.fleet, Budgeted(answer.plan, answer.budget, answer.put_off))
    if answer.policies:
        found = plan_sheets(answer.fleet, answer.policies) | found
    return found | (life_sheets(answer.lives) if answer.lives else {})
