"""What logs show in words: fitted scale and shape, repairs against the files, what an hour log's variation holds."""

from collections.abc import Sequence

from model.fleet.power_law import PowerLaw
from model.fleet.reading import Fleet
from model.fleet.repair_log import ModeFit
from model.inputs.terms import Clock
from model.language import say
from model.wording import one_decimal, period, plain, whole


def scale_told(one: ModeFit) -> str:
    """The fitted scale with its unit and 95 % interval, or that there were too few repairs."""
    if one.fit is None:
        return say("too few repairs")
    digits = 0 if one.clock is Clock.HOURS else 1
    low, high = (_edge(edge, digits) for edge in one.fit.scale_interval)
    scale = round(one.fit.scale, digits)
    told = say("{hours} h", hours=plain(scale)) if one.clock is Clock.HOURS else period(scale)
    return f"{told} ({low}\u2013{high})"


def shape_told(fit: PowerLaw | None) -> str:
    """The fitted shape with its 95 % interval; nothing where there were too few repairs."""
    if fit is None:
        return ""
    low, high = (_edge(edge, 2) for edge in fit.shape_interval)
    return f"{plain(round(fit.shape, 2))} ({low}\u2013{high})"


def _edge(value: float, digits: int) -> str:
    """One end of an interval. [h or year, or -]"""
    return plain(round(value, digits)) if value < float("inf") else "\u221e"


def log_against_files(found: Sequence[ModeFit]) -> str:
    """How many repairs the log has, and how many the engines' files expect of the same engines."""
    seen, expected = (sum(getattr(one, name) for one in found) for name in ("repairs", "expected"))
    return say(
        "The log has {seen} {seen:repair|repairs} where the engines' files expect {expected}",
        seen=whole(seen),
        expected=whole(expected),
    )


def mode_against_file(one: ModeFit) -> str:
    """What the log says of one failure mode: repairs seen and expected, and whether they grow with age."""
    told = say(
        "{mode} of {engine}: the log has {seen} where the file expects {expected}",
        mode=one.mode,
        engine=one.engine,
        seen=whole(one.repairs),
        expected=one_decimal(one.expected),
    )
    if one.fit is None:
        return say("{told}; too few repairs to fit a law", told=told)
    low, high = one.fit.shape_interval
    if low > 1.0:
        return say("{told}; they come more often with age", told=told)
    if high < 1.0:
        return say("{told}; they come less often with age", told=told)
    return say("{told}; whether they come more often with age cannot be told yet", told=told)


def without_repairs(found: Sequence[ModeFit]) -> list[str]:
    """How many failure modes the log has no repair of, and what the files expect of them; nothing where none."""
    none = [one.expected for one in found if not one.repairs]
    if not none:
        return []
    return [
        say(
            "{number} failure {number:mode|modes} without a repair in the log; the files expect {expected} of "
            "{number:it|them together}.",
            number=whole(len(none)),
            expected=one_decimal(sum(none)),
        )
    ]


def notes_of_repairs(found: Sequence[ModeFit]) -> list[str]:
    """Failure modes without a repair, and repairs of the log that count nowhere."""
    left_out = sum(one.left_out for one in found)
    if not left_out:
        return without_repairs(found)
    told = say(
        "{number} {number:repair|repairs} in the log from before `repair_log_from`, not counted.",
        number=whole(left_out),
    )
    return [*without_repairs(found), told]


def fits_used(fleet: Fleet) -> str:
    """Whether the fits count."""
    if fleet.terms.fit_repairs:
        return say("The fits stand in place of the files.")
    return say("The fits are shown only; the fleet file counts them where it says fit_repairs = true.")


def notes_of_hours(fleet: Fleet) -> list[str]:
    """That the hour log's variation holds the season's and the register's does not; nothing where there is neither."""
    season = fleet.terms.season_variation
    if season == 0.0 or all(fit.variation is None for fit in fleet.hour_fits.values()):
        return []
    return [
        say(
            "The variation by the hour log holds the season's, {season} %, which all units share. The register's is "
            "each unit's own beside the season's; where the register leaves it empty, it is the log's with the "
            "season's taken off.",
            season=plain(round(100.0 * season, 1)),
        )
    ]
