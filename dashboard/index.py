"""The page around the page: its language, what it fetches before anything else."""

import re
from typing import Any

from dash import Dash

from dashboard import polyfill
from model.language import say, spoken

INDEX = """<!DOCTYPE html>
<html lang="en">
<head>
{%metas%}
<meta name="color-scheme" content="light dark">
<title>{%title%}</title>
<link rel="icon" href="{base}assets/icon.svg" type="image/svg+xml">
<link rel="preload" as="script" fetchpriority="low" id="drawing-code" href="{picture_code}">
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
"""The page around the page; `assets/drawing.js` runs what draws the pictures, the largest file, once it is there."""

TABLES = re.compile(r'<script src="[^"]*/dash_table/[^"]*"></script>')
"""Dash's own tables, of which the pages have none."""


class Pages(Dash):
    """The application, whose page around the page is in the language of the moment too."""

    def interpolate_index(self, title: str = "", scripts: str = "", **parts: Any) -> str:  # type: ignore[override]
        """The page around the page; its parts are Dash's."""
        older = f'<script src="{polyfill.address(self.config.requests_pathname_prefix)}"></script>'
        needed = polyfill.SCRIPT.sub(older, TABLES.sub("", scripts))
        page = super().interpolate_index(title=say(title), scripts=needed, **parts)  # type: ignore[no-untyped-call]
        return str(page).replace('lang="en"', f'lang="{spoken().language}"', 1)
