"""`python -m dashboard`: what it says when it cannot start."""

import subprocess
import sys
from pathlib import Path

from tests.rules.project import ROOT


def started(*options: str) -> subprocess.CompletedProcess[str]:
    """The command, run to its end."""
    command = [sys.executable, "-m", "dashboard", *options]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, timeout=120)


def test_a_missing_file_is_told() -> None:
    done = started("--scenario", "none.toml")

    assert done.returncode == 2
    assert "none.toml: found no such file" in done.stderr
    assert "Traceback" not in done.stderr


def test_every_problem_of_a_file_is_told(tmp_path: Path) -> None:
    file = tmp_path / "bad.toml"
    file.write_text("format = 1\nengines = []\n[prices]\nfeul = -2\n", encoding="utf-8")

    done = started("--scenario", str(file))

    assert done.returncode == 2
    assert "fuel" in done.stderr
    assert "Traceback" not in done.stderr


def test_an_impossible_port_is_told() -> None:
    done = started("--port", "70000")

    assert done.returncode == 2
    assert "Traceback" not in done.stderr
