"""What the reader of the command line says by itself, in the language in use.

That library looks its words up under two names of its own module, meant for translation; here they
come from our catalogs. What is said only to programmers stays as it is.
"""

from __future__ import annotations

import argparse

from deskapp.i18n import N_, _, ngettext

# Words of the library -> ours, with the same places to fill.
WORDS: dict[str, str] = {
    "usage: ": N_("usage: "),
    "positional arguments": N_("words in order"),
    "options": N_("options"),
    "show this help message and exit": N_("show this help and end"),
    "%(prog)s: error: %(message)s\n": N_("%(prog)s: not understood: %(message)s\n"),
    "argument %(argument_name)s: %(message)s": N_("%(argument_name)s: %(message)s"),
    "unrecognized arguments: %s": N_("these words are not known here: %s"),
    "the following arguments are required: %s": N_("still needed: %s"),
    "one of the arguments %s is required": N_("one of these is needed: %s"),
    "not allowed with argument %s": N_("does not go together with %s"),
    "ignored explicit argument %r": N_("takes no value, and was given %r"),
    "expected one argument": N_("needs one value behind it"),
    "expected at most one argument": N_("takes one value at most"),
    "expected at least one argument": N_("needs one value or more behind it"),
    "ambiguous option: %(option)s could match %(matches)s": N_(
        "%(option)s can mean several options: %(matches)s"
    ),
    "unexpected option string: %s": N_("no option stands here: %s"),
    "invalid %(type)s value: %(value)r": N_("%(value)r cannot be read as %(type)s"),
    "invalid choice: %(value)r (choose from %(choices)s)": N_(
        "%(value)r is none of these: %(choices)s"
    ),
    "invalid choice: %(value)r, maybe you meant %(suggestion)r? (choose from %(choices)s)": N_(
        "%(value)r is none of these: %(choices)s. Is %(suggestion)r meant?"
    ),
    "unknown parser %(parser_name)r (choices: %(choices)s)": N_(
        "%(parser_name)r is none of these commands: %(choices)s"
    ),
}


def speak_on_the_command_line() -> None:
    """Let the library say its words in the language in use, whichever that is then."""
    setattr(argparse, "_", _said)  # noqa: B010 - a name of the library that it shows to nobody
    setattr(argparse, "ngettext", _counted)  # noqa: B010


def _said(text: str) -> str:
    ours = WORDS.get(text)
    return text if ours is None else _(ours)


def _counted(one: str, many: str, count: int) -> str:
    if "%s" in one and "expected" in one:
        words = ngettext("needs {n} value behind it", "needs {n} values behind it", count)
        return words.replace("{n}", "%s")
    return one if count == 1 else many
