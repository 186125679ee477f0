"""The project's own files, as the rules see them."""

import subprocess
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]


def name_of(path: Path) -> str:
    """Name of a file from the top of the project."""
    return path.relative_to(ROOT).as_posix()


def python_files(*folders: str) -> list[Path]:
    """Every Python file below these folders of the project."""
    return sorted(path for folder in folders for path in (ROOT / folder).rglob("*.py"))


def tracked_files() -> list[Path]:
    """Every file under version control that has not just been deleted."""
    # A checkout may belong to another user than the one who tests it.
    command = ["git", "-c", "safe.directory=*", "ls-files", "-z"]
    listed = subprocess.run(command, cwd=ROOT, capture_output=True, check=True, text=True).stdout
    return [ROOT / name for name in listed.split("\0") if name and (ROOT / name).is_file()]


def first_code_block(markdown: str) -> list[str]:
    """Commands of the first fenced block of a page: its lines without blank ones and comments."""
    block = markdown.split("\n```")[1].split("\n")[1:]
    return [line.strip() for line in block if line.strip() and not line.strip().startswith("#")]
