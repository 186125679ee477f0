"""A browser stays with the one of several processes that it was given: its results and long runs are kept there."""

from collections.abc import Iterator
from itertools import count

from flask import Flask, Response, request

COOKIE = "served-by"
"""What a browser keeps of it."""


def tell(server: Flask, place: int) -> None:
    """Have every page say which process sent it."""

    @server.after_request
    def say_where(response: Response) -> Response:
        if response.mimetype == "text/html" and request.cookies.get(COOKIE) != str(place):
            # Whoever comes by a link from elsewhere brings it too, so that no run of another tab is lost.
            response.set_cookie(COOKIE, str(place), httponly=True, samesite="Lax")
        return response


class Places:
    """Which of so many processes a connection goes to."""

    def __init__(self, number: int) -> None:
        """Begin with the first."""
        self.number = number
        self._turns = count()

    def for_head(self, head: bytes) -> Iterator[int]:
        """
        The processes to try for a connection, best first: the one that the browser knows, or the next in turn.

        Parameters
        ----------
        head : bytes
            Of its first request.
        """
        first = self._known(head)
        if first is None:
            first = next(self._turns) % self.number
        return ((first + further) % self.number for further in range(self.number))

    def _known(self, head: bytes) -> int | None:
        """The process that a browser says it was given; None where it says nothing that can be."""
        for line in head.split(b"\r\n"):
            name, _, cookies = line.partition(b":")
            if name.strip().lower() != b"cookie":
                continue
            for cookie in cookies.split(b";"):  # a parser of cookies drops all of them for one that it dislikes
                key, _, value = cookie.strip().partition(b"=")
                if key == COOKIE.encode() and value.isdigit() and int(value[:4]) < self.number:
                    return int(value[:4])
        return None
