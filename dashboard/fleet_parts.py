"""What the fleet's page shows of an answer: sentence, pictures, tables, notes; as far as it is worked out."""

import dash_mantine_components as dmc
from dash import dcc, html
from dash.development.base_component import Component

from dashboard import fleet_ids as ids
from dashboard import fleet_tables
from dashboard.browser import aria
from dashboard.figures import cost_by_age, fleet_budget, policies_saved, replacement_calendar
from dashboard.fleet_answers import TERMS, FleetAnswer
from dashboard.ids import graph as graph_of
from dashboard.ids import title as title_of
from dashboard.text import together
from dashboard.theme import GRAPH_CONFIG, TECHNOLOGY_COLOURS, Picture, looks
from model.fleet.budgeted import downtime_told
from model.fleet.rules_told import never_bought_told, notes_of, rules_of_replacing
from model.language import say
from model.wording import about, whole

ALL_SITES = ""
"""Stands for every site among them."""


def answer_lines(answer: FleetAnswer) -> list[Component]:
    """The answer in a sentence, and what differs from what the file says."""
    before, figure, after = fleet_budget.answer(answer.fleet, answer.budget)
    lines = [line for line in (contingency_told(answer), difference_told(answer)) if line]
    lines += never_bought_told(answer.fleet, answer.never)
    return [
        html.P([together(before), html.Strong(together(figure)), together(after)], className="sentence"),
        html.P(together("\n".join(lines)), className="second-line"),
    ]


def contingency_told(answer: FleetAnswer) -> str:
    """What all years are expected to cost, and what it takes beyond that for each to hold with 80 %."""
    budget, fleet = answer.budget, answer.fleet
    more = float(budget.contingency.sum())
    known = {
        "years": fleet.terms.horizon,
        "amount": about(float(budget.expected.sum()), abs(more)),
        "more": about(abs(more), abs(more)),
        "currency": fleet.file.currency,
    }
    if more < 0.0 and known["more"] != "0":
        return say(
            "{years:The year|All {years} years together}: {amount} {currency}; with {more} {currency} less in all each "
            "year still holds in 80 of 100 trials, as a few dear ones raise the mean.",
            **known,
        )
    return say(
        "{years:The year|All {years} years together}: {amount} {currency}, and {more} {currency} of contingency "
        "for each year to hold "
        "in 80 of 100 trials.",
        **known,
    )


def difference_told(answer: FleetAnswer) -> str:
    """How a changed fleet's budget differs from the file's, over the years that both have; empty where nothing is."""
    if answer.before is None:
        return ""
    years = min(answer.budget.expected.size, answer.before.expected.size)
    change = float(answer.budget.expected[:years].sum() - answer.before.expected[:years].sum())
    spread = abs(float(answer.budget.contingency.sum()))
    if whole(change) == whole(0.0):
        return say(
            "Over the first {years:year|{years} years} the budget is the same as with what the file says.", years=years
        )
    known = {"years": years, "amount": about(abs(change), spread / 10.0), "currency": answer.fleet.file.currency}
    if change < 0.0:
        return say(
            "With your changes the first {years:year costs|{years} years cost} {amount} {currency} less than "
            "with what the file says.",
            **known,
        )
    return say(
        "With your changes the first {years:year costs|{years} years cost} {amount} {currency} more than with "
        "what the file says.",
        **known,
    )


def parts(answer: FleetAnswer) -> list[Component]:
    """Pictures and tables, those that are worked out; words where one is still to come."""
    return [_budget(answer), _calendar(answer), _ages(answer), _policies(answer), _units(answer)]


def last_parts(answer: FleetAnswer) -> list[Component]:
    """What stands below all else: the button for all tables, and what a reader should know."""
    return [_save(), _notes(answer)]


def names_in(answer: FleetAnswer) -> tuple[str, ...]:
    """Names that its owner gave to engines, units and sites."""
    fleet = answer.fleet
    engines = (engine.name for engine in fleet.file.engines)
    return (*engines, *(unit.name for unit in fleet.units), *(unit.site for unit in fleet.units))


def picture_place(picture: str, subtitle: str, drawn: tuple[Picture, str], *below: Component) -> html.Section:
    """A picture with its finding above and what belongs to it below."""
    graph = dcc.Graph(
        id=graph_of(picture),
        figure=drawn[0],
        config=GRAPH_CONFIG,
        style={"minHeight": drawn[0]["layout"]["height"]},  # kept until it is drawn, so that nothing jumps
        className="graph",
    )
    heading = html.H2(together(drawn[1]), id=title_of(picture), className="finding")
    return html.Section([heading, html.P(subtitle, className="subtitle"), graph, *below], className="picture")


def folded(words: str, content: Component) -> html.Details:
    """A table that is opened by its words."""
    return html.Details([html.Summary(words), content])


def _budget(answer: FleetAnswer) -> html.Section:
    """The budget by year."""
    fleet, budget = answer.fleet, answer.budget
    subtitle = say(
        "Budget by year in cash, {currency} in money of the day, stacked by cost element; beside each bar how sure it "
        "is ({trials} trials). Contingency: the budget that holds in 80 of 100 trials less the expected one",
        currency=fleet.file.currency,
        trials=whole(TERMS.trials),
    )
    drawn = (fleet_budget.picture(fleet, budget), fleet_budget.finding(fleet, budget))
    return picture_place(
        ids.BUDGET,
        subtitle,
        drawn,
        html.P(fleet_budget.legend(budget), className="legend"),
        *(html.P(line, className="subtitle") for line in downtime_told(budget)),
        folded(say("The budget by year, in figures"), fleet_tables.years_table(answer)),
        folded(say("By element, site and technology"), fleet_tables.parts_table(answer)),
        folded(
            say("What holds in 80 % of the trials, by element, site and technology"), fleet_tables.spread_table(answer)
        ),
    )


def _calendar(answer: FleetAnswer) -> html.Section:
    """Which engines go when."""
    fleet, plan = answer.fleet, answer.plan
    finding = replacement_calendar.finding(fleet, plan)
    subtitle = say("New engines by year; policy: {policy}", policy=plan.policy.in_words)
    if not plan.bought:
        return html.Section([html.H2(finding, className="finding"), html.P(subtitle, className="subtitle")],
                            className="picture")  # fmt: skip
    look = looks(fleet.file.engines)
    drawn = (replacement_calendar.picture(fleet, plan, look), finding)
    return picture_place(
        ids.CALENDAR,
        subtitle,
        drawn,
        html.P(_colours(answer), className="legend"),
        folded(say("Units due, with the reason"), fleet_tables.due_table(answer)),
        *_put_off(answer),
    )


def _put_off(answer: FleetAnswer) -> list[Component]:
    """What the yearly limit makes wait, where it does."""
    if not answer.put_off:
        return []
    words = say(
        "{number} {number:unit|units} put off by the yearly limit: what waiting costs, {amount} {currency} in "
        "present value",
        number=whole(len(answer.put_off)),
        amount=whole(sum(one.costs for one in answer.put_off)),
        currency=answer.fleet.file.currency,
    )
    return [folded(words, fleet_tables.put_off_table(answer))]


def _colours(answer: FleetAnswer) -> list[Component]:
    """Which colour is which technology of what is bought."""
    bought = {answer.fleet.file.engine(due.engine).technology for due in answer.plan.bought}
    if len({due.place for due in answer.plan.bought}) > replacement_calendar.MOST_UNITS:
        return [html.Span(say("The number of units stands in each mark."))]
    return [
        html.Span(
            [html.Span(className="part", style={"background": colour}, **aria(hidden="true")), say(technology.value)]
        )
        for technology, colour in TECHNOLOGY_COLOURS.items()
        if technology in bought
    ]


def _waits(title: str, what: str) -> html.Section:
    """Room for what is still worked out."""
    return html.Section([html.H2(title, className="finding"), html.P(what, className="waiting")], className="picture")


def _ages(answer: FleetAnswer) -> html.Section:
    """What an engine costs a year by the age at which it goes."""
    if not answer.lives:
        return _waits(say("At which age to replace"), say("Still being worked out"))
    fleet = answer.fleet
    families = cost_by_age.families(fleet)
    data = [{"value": str(place), "label": cost_by_age.named(fleet, one)} for place, one in enumerate(families)]
    choice = dmc.SegmentedControl(id=ids.FAMILY, data=data, value="0", size="md", className="fleet-family")
    return html.Section(
        [
            html.Div(choice, **aria(label=say("Rated power"))) if len(families) > 1 else html.Div(choice, hidden=True),
            html.Div(ages_part(answer, 0), id=ids.AGES_PART),
            folded(
                say("Best ages, and how they move with hours"),
                html.Div([fleet_tables.lives_table(answer), fleet_tables.moves_table(answer)]),
            ),
        ],
        className="fleet-ages",
    )


def ages_part(answer: FleetAnswer, place: int) -> list[Component]:
    """
    The picture for engines of one power.

    Parameters
    ----------
    answer : FleetAnswer
    place : int
        Of the power among those of the fleet.
    """
    fleet, families = answer.fleet, cost_by_age.families(answer.fleet)
    family = families[place if 0 <= place < len(families) else 0]
    lives = [one for one in answer.lives if one.name in family]
    drawn = (
        cost_by_age.picture(fleet, lives, family, looks(fleet.file.engines)),
        cost_by_age.finding(lives),
    )
    subtitle = say(
        "Equivalent annual cost by replacement age, {currency} in money of the first day, on mean hours and expected "
        "repairs; shaded: within 2 % of the lowest; below: the ages of the fleet's engines",
        currency=fleet.file.currency,
    )
    return [picture_place(ids.AGES, subtitle, drawn)]


def _policies(answer: FleetAnswer) -> html.Section:
    """What each policy saves."""
    if not answer.policies:
        return _waits(say("What each policy saves against today's"), say("Still being worked out"))
    fleet = answer.fleet
    drawn = (policies_saved.picture(fleet, answer.policies), policies_saved.finding(fleet, answer.policies))
    subtitle = say(
        "What each policy saves over {years} {years:year|years}, {currency} in present value, what the engines "
        "are worth at the end "
        "taken off; on mean hours and expected repairs",
        years=fleet.terms.horizon,
        currency=fleet.file.currency,
    )
    return picture_place(
        ids.POLICIES, subtitle, drawn, folded(say("Policies compared"), fleet_tables.policies_table(answer))
    )


def _units(answer: FleetAnswer) -> html.Section:
    """The register, by site."""
    sites = sorted({unit.site for unit in answer.fleet.units if unit.site})
    data = [{"value": ALL_SITES, "label": say("All sites")}, *({"value": site, "label": site} for site in sites)]
    engines = sum(unit.count for unit in answer.fleet.units)
    finding = say(
        "{units} {units:unit|units} with {engines} {engines:engine|engines}",
        units=whole(len(answer.fleet.units)),
        engines=whole(engines),
    )
    choice = dmc.Select(id=ids.SITE, label=say("Site"), data=data, value=ALL_SITES, size="md", allowDeselect=False,
                        className="fleet-site")  # fmt: skip
    table = html.Div(fleet_tables.units_table(answer, None), id=ids.UNITS_PART)
    return html.Section(
        [html.H2(finding, className="finding"), folded(say("The register on the first budget day"),
                                                        html.Div([choice, table]))],
        className="picture",
    )  # fmt: skip


def _save() -> html.Section:
    """All tables as one file."""
    button = dmc.Button(say("Save all tables (XLSX)"), id=ids.SAVE, variant="default", size="md")
    return html.Section(button, className="picture")


def _notes(answer: FleetAnswer) -> html.Section:
    """What a reader should know about the figures."""
    lines = [*rules_of_replacing(answer.fleet), *notes_of(answer.fleet)]
    heading = html.H2(say("Good to know"), className="finding")
    return html.Section([heading, html.Ul([html.Li(line) for line in lines])], className="notes")
