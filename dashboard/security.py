"""What a careful server says and refuses: headers, a policy for content, trusted hosts, sizes."""

import socket
from collections.abc import Iterable

from dash import Dash
from flask import Flask, Response

LONGEST_REQUEST = 3_000_000
"""Largest body that is read: an opened file of a million bytes, as JSON writes it. [byte]"""

EVERYWHERE = ("0.0.0.0", "::")
"""Addresses that stand for all of a machine's own."""

HEADERS = {
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=(), payment=(), usb=()",
}
"""Sent with every answer."""


def content_policy(script_hashes: Iterable[str]) -> str:
    """
    The content security policy: everything from the server itself, no scripts written into the page but known ones.

    Styles may stand in the page, since the controls bring theirs that way.
    """
    scripts = " ".join(["'self'", *script_hashes])
    return "; ".join(
        (
            "default-src 'none'",
            f"script-src {scripts}",
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "font-src 'self' data:",
            "connect-src 'self'",
            "worker-src 'self'",
            "base-uri 'none'",
            "form-action 'none'",
            "frame-ancestors 'none'",
            "object-src 'none'",
        )
    )


def trusted_hosts(host: str) -> list[str]:
    """Names under which the server answers: a page elsewhere cannot reach it through a name of its own."""
    names = {"127.0.0.1", "localhost", "[::1]"}
    if host not in EVERYWHERE:
        return sorted(names | {f"[{host}]" if ":" in host else host})
    own = socket.gethostname()
    try:
        addresses = socket.gethostbyname_ex(own)[2]
    except OSError:
        addresses = []
    return sorted({*names, own, f"{own}.local", *addresses})


def secure(app: Dash, host: str) -> None:
    """Set all of it; called after the last callback, whose scripts the policy must know."""
    server: Flask = app.server
    server.config["MAX_CONTENT_LENGTH"] = LONGEST_REQUEST
    server.config["TRUSTED_HOSTS"] = trusted_hosts(host)
    policy = content_policy(app.csp_hashes())

    @server.after_request
    def add_headers(response: Response) -> Response:
        response.headers["Content-Security-Policy"] = policy
        for name, value in HEADERS.items():
            response.headers[name] = value
        return response
