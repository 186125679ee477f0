"""For a server of one's own: `waitress-serve --listen=127.0.0.1:8050 --threads=8 dashboard.wsgi:server`."""

from dashboard.app import build_app

server = build_app().server
