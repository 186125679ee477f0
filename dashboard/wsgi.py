"""For a server of one's own: `waitress-serve --listen=127.0.0.1:8050 --threads=8 dashboard.wsgi:server`.

The environment says under which name it answers (OUTBOARD_COSTS_HOST) and whom it lets in (OUTBOARD_COSTS_USER and
OUTBOARD_COSTS_PASSWORD).
"""

import os

from dashboard.app import build_app
from dashboard.login import from_environment

server = build_app(os.environ.get("OUTBOARD_COSTS_HOST", "127.0.0.1"), from_environment()).server
