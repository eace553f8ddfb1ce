"""The command line: opens the window, or does one thing without it.

Nothing of the program itself is imported before a command is known, so that help and the window
start fast.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Callable, Sequence
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, cast

from deskapp.app.argparse_words import speak_on_the_command_line
from deskapp.app.cli_exit import Exit
from deskapp.app.cli_words import COMMANDS, HELP, VERSION, command_parser, window_parser
from deskapp.i18n import _, use_language

if TYPE_CHECKING:
    from argparse import Namespace

INTERRUPTED = 130
"""The customary exit code of a program stopped from the keyboard."""


def main(argv: Sequence[str] | None = None) -> int:
    """Run the command line and return its exit code.

    Args:
        argv: the words after the name of the program; those of this process if left out.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    _print_whatever_the_terminal_can_show()
    _speak()
    speak_on_the_command_line()
    try:
        if words[:1] == [VERSION]:
            print(_version())
            return Exit.DONE
        if not words or words[0] not in (*COMMANDS, *HELP):
            return _open_window(window_parser().parse_args(words).file)
        options = command_parser().parse_args(words)
    except SystemExit as ended:
        return ended.code if isinstance(ended.code, int) else Exit.DONE
    return _run(options)


def _run(options: Namespace) -> int:
    from deskapp.app.cli_start import tell, tell_why

    module = import_module(f"deskapp.app.cli_{options.command}")
    run = cast("Callable[[Namespace], Exit]", module.run)
    try:
        code = run(options)
        sys.stdout.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return Exit.DONE
    except FileNotFoundError as error:
        tell_why(error) if error.strerror else tell(str(error))
        return Exit.UNREADABLE
    except OSError as error:
        tell_why(error)
        return Exit.UNWRITABLE
    except KeyboardInterrupt:
        tell(_("Stopped."))
        return INTERRUPTED
    return code


def _open_window(file: Path | None) -> int:
    from deskapp.app.cli_start import tell
    from deskapp.app.screen import why_no_window

    if file is not None and not file.exists():
        tell(_("There is no file and no command “{word}”. Try: ductfolio --help").format(word=file))
        return Exit.UNREADABLE
    try:
        trouble = why_no_window()
        if trouble:
            tell(trouble)
            return Exit.USAGE
        from deskapp.app.window import run_window
    except ImportError as error:
        tell(
            _("The window cannot be opened, something it needs is missing: {why}.").format(
                why=error
            )
        )
        return Exit.USAGE
    return run_window(file)


def _speak() -> None:
    """Speak the language preferred; the window asks again, since it knows the system's better."""
    from deskapp.app.cli_start import settings_folder
    from deskapp.session.first_look import language_wanted

    use_language(language_wanted(settings_folder()))


def _version() -> str:
    from deskapp.session.own_version import own_version

    return f"Ductfolio {own_version()}".rstrip()


def _print_whatever_the_terminal_can_show() -> None:
    """Put a question mark for signs the terminal cannot show, instead of breaking off."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure is not None:
            reconfigure(errors="replace")
