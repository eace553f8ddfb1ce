"""The environment `.venv`: made from a hashed lock file, and reused while that stays equal."""

import hashlib
import importlib.util
import json
import os
import platform
import shutil
import subprocess
import sys
import sysconfig
import tomllib
from pathlib import Path

from deskapp.bootstrap import system_packages
from deskapp.bootstrap.pip_words import explain
from deskapp.bootstrap.speech import SetupError, say, tail

ROOT = Path(__file__).resolve().parents[2]
VENV = ROOT / ".venv"
LOCKS = ROOT / ".lock"
STAMP = VENV / "ductfolio-stamp.json"

# What each command needs. The files of "check" hold everything of "run" in the same versions.
LOCK_FILES = {"run": ("run.txt",), "check": ("check.txt", "check_source.txt")}


def venv_program(name: str) -> Path:
    """Return the path of a program inside the environment, such as ``python``."""
    folder, ending = ("Scripts", ".exe") if os.name == "nt" else ("bin", "")
    return VENV / folder / f"{name}{ending}"


def child_variables(**more: str) -> dict[str, str]:
    """Return variables for programs of the environment, free of Python paths from outside."""
    kept = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "PYTHONHOME")}
    return kept | {"PIP_USER": "0", "PIP_DISABLE_PIP_VERSION_CHECK": "1"} | more


def prepare(need: str) -> Path:
    """Make `.venv` good for `need` (``run`` or ``check``) and return its Python.

    An environment whose stamp still matches is used as it is. Raises `SetupError` with the way out.
    """
    wanted = {name: fingerprint(name) for name in LOCK_FILES}
    stamp = _read_stamp() if _venv_runs() else {}
    python = venv_program("python")
    if stamp.get(need) == wanted[need]:
        say("Using the environment made earlier in .venv.")
        return python
    if stamp.get("run") != wanted["run"]:
        stamp = {}
        _make_venv()
    STAMP.unlink(missing_ok=True)
    for name in LOCK_FILES[need]:
        _install(python, name)
    _point_at_source()
    stamp |= {name: wanted[name] for name in ("run", need)}
    STAMP.write_text(json.dumps(stamp, indent=1), encoding="utf-8")
    return python


def fingerprint(need: str) -> str:
    """Return a text that changes with the lock, the dependencies, the Python or the folder."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        project = tomllib.load(file)
    parts = [
        json.dumps([project["project"], project["dependency-groups"]], sort_keys=True),
        platform.python_version(),
        platform.machine(),
        str(ROOT),
        *((LOCKS / name).read_text(encoding="utf-8") for name in LOCK_FILES[need]),
    ]
    return hashlib.sha256("\n".join(parts).encode()).hexdigest()


def _read_stamp() -> dict[str, str]:
    try:
        return dict(json.loads(STAMP.read_text(encoding="utf-8")))
    except (OSError, ValueError):
        return {}


def _venv_runs() -> bool:
    """Return whether the environment's Python still starts (its base may have been removed)."""
    try:
        return subprocess.run([venv_program("python"), "-c", ""], check=False).returncode == 0
    except OSError:
        return False


def _make_venv() -> None:
    if sys.maxsize < 2**32:
        raise SetupError("Qt comes for 64-bit Python only, and this Python is a 32-bit one.")
    _ensure_venv_module()
    say(f"Making the environment in .venv with Python {platform.python_version()} ...")
    if VENV.is_symlink():
        VENV.unlink()
    elif VENV.exists():
        shutil.rmtree(VENV, ignore_errors=True)
    command = [sys.executable, "-m", "venv", "--clear", str(VENV)]
    made = subprocess.run(
        command, env=child_variables(), check=False, capture_output=True, text=True
    )
    if made.returncode:
        raise SetupError(
            f"Python could not make the environment in {VENV}. It said\n"
            f"{tail(made.stdout + made.stderr)}\n"
            "Close programs that use that folder, check free disk space, and try again."
        )


def _ensure_venv_module() -> None:
    """Some systems ship Python without the part that makes environments."""
    if _has_venv_module():
        return
    minor = f"python3.{sys.version_info.minor}-venv"
    why = "This Python cannot make environments: its venv and ensurepip modules are missing."
    system_packages.install([(minor, "python3-venv")], [], why)
    importlib.invalidate_caches()
    if not _has_venv_module():
        raise SetupError(
            f"{why} Installing {minor} did not bring them to {sys.executable}; "
            "use a complete Python 3.11 or newer."
        )


def _has_venv_module() -> bool:
    return all(importlib.util.find_spec(name) for name in ("venv", "ensurepip"))


def _install(python: Path, lock: str) -> None:
    """Install what the lock file names, each file checked against its hash."""
    text = (LOCKS / lock).read_text(encoding="utf-8")
    packages = sum(line[:1].isalnum() for line in text.splitlines())
    say(f"Installing what .lock/{lock} names ({packages} packages) ...")
    how = ["--only-binary=:all:"]
    if lock.endswith("_source.txt"):
        how = ["--no-build-isolation", "--no-deps"]
    if not sys.stdout.isatty():
        how.append("--quiet")
    command = [python, "-m", "pip", "install", "--no-input", "--require-hashes", *how]
    done = subprocess.run(
        [*command, "-r", LOCKS / lock],
        cwd=ROOT,
        env=child_variables(),
        check=False,
        stderr=subprocess.PIPE,
        text=True,
        errors="replace",
    )
    if done.returncode:
        raise SetupError(explain(done.stderr))


def _point_at_source() -> None:
    """Let the environment's Python find the packages of this clone from any folder."""
    base = {"base": str(VENV), "platbase": str(VENV)}
    folder = Path(sysconfig.get_path("purelib", "venv", base))
    (folder / "ductfolio.pth").write_text(f"{ROOT}\n", encoding="locale")
