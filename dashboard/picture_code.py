"""The code that draws the pictures, sent so that a browser reads it once: plotly.js without the wrapper around it."""

from functools import cache
from importlib import resources

from flask import Flask, Response

OPENS, CLOSES = '"use strict";var Plotly=(', "window.Plotly = Plotly;"
"""Between them stands the code; around them, a function for other ways to load it."""


def unwrapped(code: str) -> str:
    """
    The same code without the function around it, as a page's own script needs it.

    A browser skims a function before it runs it, and this one is the whole file: it was read three times on the time
    of the page. By itself the code is read in the background, while it arrives.

    Parameters
    ----------
    code : str
        `plotly.min.js`.

    Returns
    -------
    str
        With its licence on top; as it was, where it is wrapped in another way.
    """
    first, last, licence = code.find(OPENS), code.rfind(CLOSES), code.find("*/")
    if not 0 < licence < first < last:
        return code
    return code[: licence + 2] + "\n" + code[first:last] + CLOSES + "\n"


@cache
def picture_code() -> bytes:
    """The code as it is sent, read once."""
    file = resources.files("plotly").joinpath("package_data/plotly.min.js")
    return unwrapped(file.read_text(encoding="utf-8")).encode()


def address(base: str) -> str:
    """
    Where the code is fetched; another version has another address, so that browsers may keep it.

    Parameters
    ----------
    base : str
        Of the pages.

    Returns
    -------
    str
    """
    from plotly.offline import get_plotlyjs_version

    return f"{base}picture-code/{get_plotlyjs_version()}.js"


def register(server: Flask, base: str) -> None:
    """Send the code from there."""

    @server.get(address(base))
    def send_picture_code() -> Response:
        return Response(picture_code(), content_type="text/javascript; charset=utf-8")
