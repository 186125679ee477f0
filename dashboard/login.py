"""Who may open the pages where others can reach them: one user name and one password for all."""

import hmac
import os
from dataclasses import dataclass, field

from flask import Flask, Request, Response, request

USER, PASSWORD = "OUTBOARD_COSTS_USER", "OUTBOARD_COSTS_PASSWORD"
"""Names under which the environment may hold both."""

REALM = "Outboard costs"
"""What a browser says that it asks for."""

SHORTEST = 8
"""Characters of a password; a shorter one is guessed."""


@dataclass(frozen=True)
class Login:
    """A user name and a password."""

    user: str
    """The name."""
    password: str = field(repr=False)
    """The password, never shown."""

    def lets_in(self, asked: Request) -> bool:
        """Whether a request comes with both; it takes as long to say no to a near guess as to a far one."""
        given = asked.authorization
        if given is None or given.type != "basic":
            return False
        pairs = ((given.username or "", self.user), (given.password or "", self.password))
        same = [hmac.compare_digest(one.encode(), other.encode()) for one, other in pairs]
        return all(same)


def from_environment() -> Login | None:
    """The login that the environment holds; None where it holds no user and password."""
    user, password = os.environ.get(USER, ""), os.environ.get(PASSWORD, "")
    return Login(user, password) if user and password else None


def require(server: Flask, login: Login) -> None:
    """Let nobody in without it; only whether the server is well may be asked by anyone."""

    @server.before_request
    def let_in() -> Response | None:
        if request.path == "/healthz" or login.lets_in(request):
            return None
        challenge = {"WWW-Authenticate": f'Basic realm="{REALM}", charset="UTF-8"'}
        return Response("A user name and a password are needed.", 401, challenge, mimetype="text/plain")
