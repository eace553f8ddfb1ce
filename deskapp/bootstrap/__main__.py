"""`python3 -m deskapp.bootstrap run | check | lock | words | standalone`.

This file must stay readable to Python 3.6, so that an old Python can say what it lacks.
Everything newer lives in the other files of this package and is imported after the question of age.
"""

import sys

OLDEST = (3, 11)


def newer_python() -> str:
    """Return the name of a newer Python found on this machine, or an empty text."""
    import shutil
    import subprocess

    for minor in range(15, OLDEST[1] - 1, -1):
        name = "python3.{}".format(minor)  # noqa: UP032 - also read by old Pythons
        path = shutil.which(name)
        if path and subprocess.call([path, "-c", ""], stderr=subprocess.DEVNULL) == 0:
            return name
    return ""


def say_too_old() -> str:
    """Return what to tell somebody whose Python is older than the oldest that works."""
    other = newer_python()
    mend = "Install Python 3.11 or newer and give the same command to it."
    if other:
        mend = f"This machine also has {other}: give the same command to {other} instead."
    here = "{}.{}".format(*sys.version_info)
    return (
        f"Ductfolio needs Python 3.11 or newer. This is Python {here} ({sys.executable}).\n{mend}"
    )


if sys.version_info < OLDEST:
    sys.exit(say_too_old())


def main(arguments: "list[str] | None" = None) -> int:
    """Carry out the command given on the command line and return the exit status."""
    import argparse

    from deskapp.bootstrap import checks, lock, standalone, trial_run, words
    from deskapp.bootstrap.speech import SetupError, say

    commands = {
        "run": trial_run.run,
        "check": checks.check,
        "lock": lock.refresh,
        "standalone": standalone.standalone,
        "words": words.refresh,
    }
    parser = argparse.ArgumentParser(prog="python3 -m deskapp.bootstrap", description=__doc__)
    choices = parser.add_subparsers(dest="command", required=True)
    choices.add_parser("run", help="make the environment and the sample reports, open the window")
    choices.add_parser(
        "check", help="make the environment with its tools, run all checks and tests"
    )
    choices.add_parser("lock", help="write the lock files anew from pyproject.toml (developers)")
    choices.add_parser("standalone", help="make a folder with the program that needs no Python")
    choices.add_parser("words", help="bring the catalogs of translators up to date (developers)")
    try:
        return commands[parser.parse_args(arguments).command]()
    except SetupError as stop:
        say(f"\n{stop}")
        return 3
    except KeyboardInterrupt:
        say("\nStopped.")
        return 130


if __name__ == "__main__":
    sys.exit(main())
