"""The tables of a fleet as sheets of a spreadsheet: the same from a command and from the pages."""

from collections.abc import Sequence

from model.fleet import life_reports, log_reports, reports
from model.fleet.budgeted import Budgeted
from model.fleet.logs_told import notes_of_hours
from model.fleet.policy_costs import PolicyCost
from model.fleet.reading import Fleet
from model.fleet.rules_told import notes_of, rules_of_replacing
from model.fleet.workbook import Sheet
from model.language import say


def budget_sheets(fleet: Fleet, found: Budgeted) -> dict[str, Sheet]:
    """Sheets of a budget: by year, its parts, what is due, what waits, the units, the logs, rules and cautions."""
    years = tuple(str(reports.year_of(fleet, year)) for year in range(fleet.terms.horizon))
    sites, technologies = reports.part_rows(fleet, found.budget)
    return {
        say("Years"): (reports.YEAR_COLUMNS, reports.year_rows(fleet, found.budget)),
        say("Elements"): (reports.BUDGET_COLUMNS, reports.budget_rows(fleet, found.budget)),
        say("Sites"): (("site", *years), sites),
        say("Technologies"): (("technology", *years), technologies),
        say("Spread of parts"): (
            ("by", "part", "holds_in", *years, reports.ALL_YEARS),
            reports.part_spread_rows(fleet, found.budget),
        ),
        say("Due"): (reports.DUE_COLUMNS, reports.due_rows(fleet, found.plan.bought)),
        say("Put off"): (reports.PUT_OFF_COLUMNS, reports.put_off_rows(fleet, found.put_off)),
        say("Units"): (reports.UNIT_COLUMNS, reports.unit_rows(fleet)),
        say("Repair log"): (log_reports.FIT_COLUMNS, log_reports.fit_rows(fleet)),
        say("Hour log"): (log_reports.HOUR_COLUMNS, log_reports.hour_rows(fleet)),
        say("Notes"): (log_reports.LINE_COLUMNS, _notes(fleet, reports.budget_notes(fleet, found.budget))),
    }


def plan_sheets(fleet: Fleet, found: Sequence[PolicyCost]) -> dict[str, Sheet]:
    """Sheets of policies compared: what each costs, what each replaces, the units, rules and cautions."""
    return {
        say("Policies"): (reports.POLICY_COLUMNS, reports.policy_rows(found)),
        say("Replacements"): (reports.PLAN_COLUMNS, reports.plan_rows(fleet, found)),
        say("Units"): (reports.UNIT_COLUMNS, reports.unit_rows(fleet)),
        say("Notes"): (log_reports.LINE_COLUMNS, _notes(fleet, notes_of(fleet))),
    }


def life_sheets(lives: Sequence[life_reports.EngineLife], lines: Sequence[str] = ()) -> dict[str, Sheet]:
    """Sheets of economic lives: by age and meter, the best of each engine, and notes where there are any."""
    notes: dict[str, Sheet] = {say("Notes"): (log_reports.LINE_COLUMNS, log_reports.line_rows(lines))} if lines else {}
    return {
        say("Economic life"): (life_reports.LIFE_COLUMNS, life_reports.life_rows(lives)),
        say("Best ages"): (life_reports.BEST_COLUMNS, life_reports.best_rows(lives)),
        **notes,
    }


def _notes(fleet: Fleet, lines: Sequence[str]) -> list[dict[str, str]]:
    """Findings and notes of the hour log, the rules of replacing and further notes, a line each."""
    return log_reports.line_rows([*fleet.hour_findings, *notes_of_hours(fleet), *rules_of_replacing(fleet), *lines])
