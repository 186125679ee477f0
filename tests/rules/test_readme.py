"""The two commands of the README are real ones."""

import re
import subprocess
import sys

import pytest

from tests.rules.project import ROOT, first_code_block

INSTALL = re.compile(r"python3 -m venv \.venv && \.venv/bin/pip install -q -r \S+ && \.venv/bin/python -m .+")


def commands() -> list[str]:
    """The commands of the README's first code block."""
    return first_code_block((ROOT / "README.md").read_text(encoding="utf-8"))


def missing_files(command: str) -> list[str]:
    """Files that a command names and that are not there."""
    named = [word for word in command.split() if re.search(r"\.(txt|toml|csv|py)$", word)]
    named += [f"{module}/__main__.py" for module in re.findall(r"python -m (model|dashboard)\b", command)]
    return [name for name in named if not (ROOT / name).is_file()]


def test_there_are_exactly_two_commands() -> None:
    assert len(commands()) == 2


def test_each_command_installs_and_runs() -> None:
    assert [command for command in commands() if not INSTALL.fullmatch(command)] == []


def test_each_command_names_files_that_exist() -> None:
    assert [name for command in commands() for name in missing_files(command)] == []


def test_the_first_command_answers() -> None:
    arguments = commands()[0].split("&&")[-1].split()[1:]

    done = subprocess.run([sys.executable, *arguments], cwd=ROOT, capture_output=True, text=True, check=False)

    assert done.returncode == 0, done.stderr
    assert done.stdout.strip()


def test_the_second_command_runs_every_test() -> None:
    installs, runs = commands()[1].rsplit(" && ", 1)

    assert installs.endswith("-r tests/requirements.txt")
    # In as many processes as the machine has processors; no file, folder or marker leaves anything out.
    assert runs == ".venv/bin/python -m pytest -n auto --maxprocesses 4 --dist loadfile"


def test_the_checks_use_the_second_command() -> None:
    shown = subprocess.run(
        ["bash", str(ROOT / ".ci" / "run"), "--show"], cwd="/", capture_output=True, text=True, check=True
    ).stdout

    assert shown.strip() == commands()[1]


@pytest.mark.parametrize("command", ["python -m model compare scenarios/none.toml", "pip install -r none.txt"])
def test_a_missing_file_is_found(command: str) -> None:
    assert len(missing_files(command)) >= 1
