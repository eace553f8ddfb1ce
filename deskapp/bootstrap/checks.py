"""The gate: every check and test of the project, the same here and in continuous integration."""

import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from deskapp.bootstrap import pdf_validator, qt_libraries, words
from deskapp.bootstrap.environment import ROOT, child_variables, prepare, venv_program
from deskapp.bootstrap.speech import say


@dataclass(frozen=True)
class StepOutcome:
    """How one step of the gate went: its name, whether it is green, and how long it took in s."""

    name: str
    green: bool
    seconds: float


def check() -> int:
    """Make the environment with its tools, run every step, and return 0 only when all are green."""
    begun = time.monotonic()
    python = prepare("check")
    words.compile_stale(python)
    qt_libraries.ensure(python, with_window=False)
    pdf_validator.ensure()
    ready = StepOutcome("environment", green=True, seconds=time.monotonic() - begun)
    outcomes = [ready, *(_take(name, command) for name, command in steps(python))]
    red = [outcome.name for outcome in outcomes if not outcome.green]
    say("\n" + summary(outcomes))
    return 1 if red else 0


def steps(python: Path) -> list[tuple[str, list[str]]]:
    """Return name and command line of every step, quickest first."""
    module = [str(python), "-m"]
    return [
        ("ruff format", [*module, "ruff", "format", "--check", "."]),
        ("ruff check", [*module, "ruff", "check", "."]),
        ("import contracts", [str(venv_program("lint-imports"))]),
        ("types", [*module, "basedpyright", "--pythonpath", str(python)]),
        ("tests", [*module, "pytest", "-n", "auto", "--dist", "loadfile", "-m", "not alone"]),
        ("tests of time", [*module, "pytest", "-m", "alone"]),
    ]


def summary(outcomes: Sequence[StepOutcome]) -> str:
    """Return one line for each step and a closing line that says green or names the red ones."""
    lines = [
        f"  {'green' if outcome.green else 'RED':<6}{outcome.name:<18}{outcome.seconds:7.1f} s"
        for outcome in outcomes
    ]
    red = [outcome.name for outcome in outcomes if not outcome.green]
    total = sum(outcome.seconds for outcome in outcomes)
    closing = f"Red: {', '.join(red)}." if red else "All green."
    return "\n".join([*lines, f"{closing} {total:.1f} s in all."])


def _take(name: str, command: list[str]) -> StepOutcome:
    say(f"\n== {name}")
    begun = time.monotonic()
    variables = child_variables(QT_QPA_PLATFORM="offscreen")
    done = subprocess.run(command, cwd=ROOT, env=variables, check=False)
    return StepOutcome(name, done.returncode == 0, time.monotonic() - begun)
