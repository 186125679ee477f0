"""How answers travel: packed small, the large unchanging files once for all, and kept by the browser."""

import hashlib
from threading import Lock

from flask import Flask, Request, Response, request

A_YEAR = 31_536_000
"""How long a browser keeps what carries its version in its address. [s]"""

A_DAY = 86_400
"""How long it keeps what carries none. [s]"""

VERSIONED = ("/picture-code/", "/polyfill/")
"""Parts of addresses of files that carry a version in their address."""

UNCHANGING = ("/_dash-component-suites/", "/assets/", *VERSIONED)
"""Parts of addresses of files that stay as they are while the server runs."""


def address_of(code: bytes, base: str, folder: str) -> str:
    """
    Where code is fetched; other code has another address, so that browsers may keep it.

    Parameters
    ----------
    code : bytes
    base : str
        Of the pages.
    folder : str
        One of `VERSIONED`, without slashes.

    Returns
    -------
    str
    """
    return f"{base}{folder}/{hashlib.sha256(code).hexdigest()[:12]}.js"


def offer(server: Flask, address: str, code: bytes) -> None:
    """Send code from an address."""
    server.add_url_rule(address, address, lambda: Response(code, content_type="text/javascript; charset=utf-8"))


class Packed:
    """Packed forms of unchanging files, made once; others are not kept."""

    def __init__(self) -> None:
        """Start with none."""
        self._kept: dict[str, bytes] = {}
        self._lock = Lock()

    def get(self, key: str) -> bytes | None:
        """The packed form kept under a key, if any."""
        return self._kept.get(key)

    def set(self, key: str, packed: bytes) -> None:
        """Keep a packed form, where the key says that it will stay."""
        if not key.endswith(";"):
            with self._lock:
                self._kept[key] = packed


def _place(asked: Request) -> str:
    """Under which key the answer to a request is kept; empty for what changes."""
    return asked.path if asked.method == "GET" and any(part in asked.path for part in UNCHANGING) else ""


def server(name: str) -> Flask:
    """
    A server that packs and dates what it sends.

    Parameters
    ----------
    name : str
        Name of the package.

    Returns
    -------
    Flask
    """
    made = Flask(name, static_folder=None)
    made.config["COMPRESS_CACHE_BACKEND"] = Packed
    made.config["COMPRESS_CACHE_KEY"] = _place
    made.config["COMPRESS_ZSTD_LEVEL"] = 9
    made.config["COMPRESS_STREAMS"] = False  # files sent piece by piece would be left open; they are the small ones
    made.config["SEND_FILE_MAX_AGE_DEFAULT"] = A_YEAR

    @made.after_request
    def say_how_long(response: Response) -> Response:
        if response.mimetype in ("text/html", "application/json") and "Cache-Control" not in response.headers:
            response.headers["Cache-Control"] = "no-cache"
        elif _place(request) and "Cache-Control" not in response.headers:
            age = A_YEAR if any(part in request.path for part in VERSIONED) else A_DAY
            response.headers["Cache-Control"] = f"public, max-age={age}"
        return response

    return made
