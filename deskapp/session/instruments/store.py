"""The file of the register: read with care, written whole, never written over unread."""

from __future__ import annotations

import json
import secrets
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, cast

from pydantic import ValidationError

from deskapp.domain.finding import Finding, Level
from deskapp.domain.register import InstrumentRegister
from deskapp.i18n import _

FILE_NAME = "instruments.json"
FORMAT = "ductfolio-instruments"
VERSION = 1

STEPS: Mapping[int, Callable[[dict[str, Any]], dict[str, Any]]] = {}
"""The step that leads away from each version of the file: ``STEPS[1]`` makes version 2 out of it.

A step is a pure function on plain data that imports nothing of the program.

History of the format:
  1  first version
"""

EMPTY = InstrumentRegister()


@dataclass(frozen=True, slots=True)
class RegisterFile:
    """A register as it was read. `set_aside` is where a file that could not be read went."""

    register: InstrumentRegister = EMPTY
    findings: tuple[Finding, ...] = ()
    set_aside: Path | None = None


class _Unreadable(Exception):  # noqa: N818 - a plain word
    """The text is no register of a version known here."""


class _Newer(Exception):  # noqa: N818 - a plain word
    """The text is a register of a later version."""


def load(folder: Path) -> RegisterFile:
    """Read the register kept in `folder`; without a file it is empty. Never raises.

    A damaged file is set aside under another name in the same folder, whole, with a finding that
    says where it is. A file of a later version, or one that may not be opened, stays where it is,
    and `save` then writes nothing over it.
    """
    path = folder / FILE_NAME
    try:
        return RegisterFile(_register_in(path.read_bytes()))
    except FileNotFoundError:
        return RegisterFile()
    except OSError as error:
        return RegisterFile(findings=(_unopened(error),))
    except _Newer:
        return RegisterFile(findings=(_newer(),))
    except _Unreadable as reason:
        return _aside(path, str(reason))


def save(folder: Path, register: InstrumentRegister) -> Finding | None:
    """Keep `register` in `folder`, made if need be; return why not if that does not work.

    Of two programs that save at a time the later one wins; a reader finds the one or the other,
    never half of a file. A file that cannot be read is set aside before, never written over.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_problem, write_whole

    path = folder / FILE_NAME
    before = load(folder)
    if before.findings and before.set_aside is None:
        return before.findings[0]
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, text_of(register))
    except JobFileProblem as problem:
        return _not_kept(problem.text)
    except OSError as error:
        return _not_kept(write_problem(path, error).text)
    return None


def text_of(register: InstrumentRegister) -> bytes:
    """Return the register as UTF-8 text; the same register always gives the same bytes."""
    envelope = {"format": FORMAT, "version": VERSION, **register.model_dump(mode="json")}
    text = json.dumps(envelope, ensure_ascii=False, indent=1, allow_nan=False)
    return f"{text}\n".encode("utf-8", "replace")


def _register_in(text: bytes) -> InstrumentRegister:
    from deskapp.archive.migrations.registry import bring_up_to_date

    try:
        data: object = json.loads(text.decode("utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise _Unreadable(_("it is not the text it should be")) from error
    if not isinstance(data, dict):
        raise _Unreadable(_("it holds no list of instruments"))
    plain = cast("dict[str, Any]", data)
    if plain.pop("format", None) != FORMAT:
        raise _Unreadable(_("it holds no list of instruments"))
    version = plain.pop("version", None)
    if not isinstance(version, int) or isinstance(version, bool) or version < 1:
        raise _Unreadable(_("it does not say its version"))
    if version > VERSION:
        raise _Newer
    current = bring_up_to_date(plain, version, target=VERSION, steps=STEPS)
    try:
        return InstrumentRegister.model_validate_json(json.dumps(current), strict=True)
    except (ValidationError, RecursionError) as error:
        raise _Unreadable(_place_of(error)) from error


def _place_of(error: ValidationError | RecursionError) -> str:
    """Say where a record is not as needed, such as ``fans, 0, fan, rings``."""
    if isinstance(error, RecursionError):
        return _("it is not the text it should be")
    place = ", ".join(str(part) for part in error.errors(include_url=False)[0]["loc"])
    if not place:
        return _("its records do not fit together")
    return _("the entry at {place} is not as needed").format(place=place)


def _aside(path: Path, reason: str) -> RegisterFile:
    """Move the file at `path` to a name that no other file ever had."""
    target = path.with_name(f"{path.stem}-set-aside-{secrets.token_hex(4)}{path.suffix}")
    what = _("The list of your instruments ({file}) cannot be read: {reason}.").format(
        file=path.name, reason=reason
    )
    try:
        path.rename(target)
    except FileNotFoundError:
        return RegisterFile()
    except OSError as error:
        mend = _("Move that file elsewhere ({why}); until then no instrument can be kept.")
        why = error.strerror or type(error).__name__
        return RegisterFile(findings=(_finding("register-damaged", what, mend.format(why=why)),))
    mend = _(
        "The list starts empty; the file is kept, whole, as {file}. Put a good copy of it back in "
        "its place, or enter the instruments again; those of a job can be taken over from it."
    )
    finding = _finding("register-damaged", what, mend.format(file=target.name))
    return RegisterFile(findings=(finding,), set_aside=target)


def _unopened(error: OSError) -> Finding:
    return _finding(
        "register-unopened",
        _("The list of your instruments ({file}) cannot be opened ({why}).").format(
            file=FILE_NAME, why=error.strerror or type(error).__name__
        ),
        _("Give the program a file it may read; until then nothing is written over it."),
    )


def _newer() -> Finding:
    return _finding(
        "register-newer",
        _("The list of your instruments ({file}) was written by a later version.").format(
            file=FILE_NAME
        ),
        _("Use that version, or move the file elsewhere; this version writes nothing over it."),
    )


def _not_kept(why: str) -> Finding:
    return _finding(
        "register-not-kept",
        _("The list of your instruments holds for now, but could not be kept. {why}").format(
            why=why
        ),
        _("Give the program a folder it may write to."),
    )


def _finding(code: str, what: str, mend: str) -> Finding:
    return Finding(level=Level.CHECK, code=code, path="instruments", what=what, mend=mend)
