"""The application: frame and pages put together, ready to be served."""

from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

import dash_mantine_components as dmc
from dash import Dash, html, set_props

from dashboard import frame, ids, security, sending, text
from dashboard.form import Form, form_of
from dashboard.pages import costs
from dashboard.theme import MANTINE
from model.inputs.reading import read_scenario

DEMO = Path(__file__).resolve().parents[1] / "scenarios" / "sailing-school-launch.toml"
"""What the page opens on."""

INDEX = """<!DOCTYPE html>
<html lang="en">
<head>
{%metas%}
<meta name="color-scheme" content="light dark">
<title>{%title%}</title>
<link rel="icon" href="{base}assets/icon.svg" type="image/svg+xml">
<link rel="preload" href="{base}_dash-component-suites/plotly/package_data/plotly.min.js" as="script">
{%css%}
</head>
<body>
{%app_entry%}
<footer>
{%config%}
{%scripts%}
{%renderer%}
</footer>
</body>
</html>
"""
"""The page around the page; what draws the pictures is fetched first, since it is the largest."""


@dataclass(frozen=True)
class Settings:
    """How the application is served."""

    scenario: Path = DEMO
    """The scenario file."""
    host: str = "127.0.0.1"
    """The address that is listened on."""


def build_app(settings: Settings) -> Dash:
    """
    The application for a scenario.

    Parameters
    ----------
    settings : Settings

    Returns
    -------
    Dash

    Raises
    ------
    InputError
        With every problem of the scenario's files.
    """
    return app_of(form_of(read_scenario(settings.scenario).scenario), settings.host)


def app_of(form: Form, host: str = "127.0.0.1") -> Dash:
    """The application for a form, answering to the names of a host."""
    app = Dash(
        __name__,
        server=cast(Any, sending.server(__name__)),
        title=f"{form.scenario.title}: {text.APP}",
        update_title="",
        serve_locally=True,
        compress=True,
        enable_mcp=False,
        health_endpoint="healthz",
        on_error=_say_trouble,
    )
    app.index_string = INDEX.replace("{base}", app.config.requests_pathname_prefix)
    app.layout = layout(form)
    frame.register(app, form)
    costs.register(app, form)
    security.secure(app, host)
    return app


def layout(form: Form) -> dmc.MantineProvider:
    """Frame and page."""
    return dmc.MantineProvider(
        theme=MANTINE,
        defaultColorScheme="auto",
        children=[
            *frame.stores(form),
            frame.bar(form),
            html.Div(
                className="frame",
                children=[
                    frame.control_panel(form),
                    html.Main(
                        id=ids.RESULTS,
                        className="results",
                        children=[frame.answer(form), *costs.layout(form), frame.notes(form)],
                    ),
                ],
            ),
        ],
    )


def _say_trouble(_: Exception) -> None:
    """What a user is told when a callback fails: a fixed sentence, nothing of the error."""
    set_props(ids.TROUBLE, {"children": text.TROUBLE})
