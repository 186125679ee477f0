"""What older browsers lacked, of which Dash's parts still need one piece: sent so that a browser begins no other."""

import re
from functools import cache
from importlib import resources

from flask import Flask

from dashboard.sending import address_of, offer

SCRIPT = re.compile(r'<script src="[^"]*/deps/polyfill@[^"]*"></script>')
"""How Dash asks for all of it, a quarter of a second of each load."""

PIECE, HEAD = "{regeneratorRuntime=", re.compile(r"(\d+):\[function\(")
"""In the one piece: what functions that wait were once turned into runs on it. How each piece begins."""

BEGINS = re.compile(r"\[\d+\]\);?\s*$")
"""The end of the code: which of its pieces is begun, with all that it asks for."""


def with_piece(code: str) -> str:
    """
    The same code, which begins the one piece that is needed.

    Parameters
    ----------
    code : str
        `polyfill.min.js`.

    Returns
    -------
    str
        As it was, where it is not put together that way.
    """
    numbers = HEAD.findall(code, 0, max(code.find(PIECE), 0))
    return BEGINS.sub(f"[{numbers[-1]}]);\n", code) if numbers else code


@cache
def polyfill() -> bytes:
    """The code as it is sent, read once."""
    files = [file for file in resources.files("dash").joinpath("deps").iterdir() if _is_polyfill(file.name)]
    return with_piece(files[0].read_text(encoding="utf-8")).encode()


def _is_polyfill(name: str) -> bool:
    """Whether a file is the one."""
    return name.startswith("polyfill@") and name.endswith(".min.js")


def address(base: str) -> str:
    """Where it is fetched, below the pages' own address."""
    return address_of(polyfill(), base, "polyfill")


def register(server: Flask, base: str) -> None:
    """Send the code from there."""
    offer(server, address(base), polyfill())
