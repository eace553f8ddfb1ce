"""Nothing is loaded in the moment in which somebody opens something."""

from __future__ import annotations

import ast
import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

LOADED = """
import json, sys
from pathlib import Path
from deskapp.app.window import load_desk, load_rest
from deskapp.ui import actions, crash, furnish, log_book, quiet_style
place = Path(sys.argv[1])
load_rest(load_desk(place, place))
print(json.dumps(sorted(sys.modules)))
"""


def loaded_late() -> set[str]:
    """Return the modules that functions of the window load, those for types alone left out."""
    found: set[str] = set()
    for file in sorted((ROOT / "deskapp" / "ui").rglob("*.py")):
        tree = ast.parse(file.read_text(encoding="utf-8"))
        functions = (one for one in ast.walk(tree) if isinstance(one, ast.FunctionDef))
        found |= {
            inner.module
            for function in functions
            for inner in ast.walk(function)
            if isinstance(inner, ast.ImportFrom) and inner.module
        }
    return found


def test_that_what_is_loaded_late_is_loaded_ahead_beside_the_window(tmp_path: Path) -> None:
    command = [sys.executable, "-c", LOADED, str(tmp_path)]
    run = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    late = loaded_late()
    assert len(late) > 50
    assert late - set(json.loads(run.stdout)) == set()
