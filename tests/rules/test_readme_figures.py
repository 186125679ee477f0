"""The worked example of the README is what the program answers today.

`python -m tests.rules.test_readme_figures` writes it anew.
"""

import subprocess
import sys

from tests.rules.project import ROOT

BEGIN, END = "<!-- worked example: begin -->\n", "<!-- worked example: end -->"
COMMANDS = (
    ("compare", "scenarios/sailing-school-launch.toml"),
    ("break-even", "scenarios/sailing-school-launch.toml"),
)


def example() -> str:
    """The commands and what they print, as they stand in the README."""
    blocks = []
    for command in COMMANDS:
        done = subprocess.run(
            [sys.executable, "-m", "model", *command], cwd=ROOT, capture_output=True, text=True, check=True
        )
        answer = done.stdout.split("\n- ")[0]  # notes and cautions stand in sections of their own
        lines = "\n".join(line.rstrip() for line in answer.splitlines()).strip()
        blocks.append(f"```\n$ python -m model {' '.join(command)}\n{lines}\n```\n")
    return "\n".join(blocks)


def in_readme() -> str:
    """The worked example as the README has it."""
    return (ROOT / "README.md").read_text(encoding="utf-8").split(BEGIN)[1].split(END)[0]


def test_the_worked_example_is_what_the_program_answers() -> None:
    assert in_readme() == example()


def write() -> None:
    """Write the worked example into the README."""
    path = ROOT / "README.md"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace(in_readme(), example()) if in_readme() else text.replace(BEGIN, BEGIN + example()))


if __name__ == "__main__":
    write()
