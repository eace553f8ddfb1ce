"""What can be sent to whoever mends the program: the error, the version, the job without names."""

from __future__ import annotations

import platform
import re
from collections import Counter
from pathlib import Path
from typing import TYPE_CHECKING

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.measured import Day, Measured
from deskapp.domain.paths import expand
from deskapp.i18n import _, labeled, ngettext
from deskapp.session.own_version import own_version

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Iterator

    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor

_OWN_WORDS = (Form.TEXT, Form.PARAGRAPH)
_TELLING = 3
"""Letters from which on a text may tell who somebody is."""


def problem_report(trace: str, log: Iterable[str], editor: Editor | None) -> str:
    """Return the report: texts somebody wrote are told by their length alone.

    `trace` is the error as Python tells it, `log` what was noted before it, oldest first.
    """
    hidden = _hider(editor)
    parts = [
        labeled(_("Program"), _own_version()),
        f"{platform.platform()}, {platform.python_implementation()} {platform.python_version()}",
        "",
        labeled(_("The error"), "").rstrip(),
        "\n".join(
            line if line.startswith("  ") else hidden(line) for line in trace.strip().splitlines()
        ),
    ]
    noted = [hidden(line) for line in log]
    if noted:
        parts += ["", labeled(_("Noted before it"), "").rstrip(), *noted]
    if editor is not None:
        parts += ["", labeled(_("Last step"), hidden(editor.undo_label))]
        found = Counter(f"{finding.level}: {finding.code}" for finding in editor.findings)
        parts += [f"{words} × {count}" for words, count in found.items()]
        parts += [
            "",
            labeled(_("The job, without names and texts"), "").rstrip(),
            *job_lines(editor.job),
        ]
    return _without_home("\n".join(parts))


def job_lines(job: Job) -> Iterator[str]:
    """Yield each filled field of a job on a line; the texts people wrote only by their length."""
    for spec in FIELDS:
        for path, value in expand(job, spec.path):
            if value is None or value == "":
                continue
            if isinstance(value, Measured):
                told = _quantity(value)
            elif isinstance(value, Day):
                told = _day(value)
            elif spec.form in _OWN_WORDS:
                told = _length(str(value))
            else:
                told = str(value)
            yield f"{path} = {told}"


def written_in(editor: Editor) -> set[str]:
    """Return all that somebody wrote in the job, and the name of its file."""
    job = editor.job
    written = {editor.path.stem} if editor.path is not None else set[str]()
    for spec in FIELDS:
        for _path, value in expand(job, spec.path):
            if isinstance(value, Measured | Day):
                written.add(value.typed)
            elif spec.form in _OWN_WORDS and value:
                written.add(str(value))
    photos = (*job.photos, *(photo for leak in job.leaks for photo in leak.photos))
    for photo in photos:
        written |= {photo.name, photo.caption}
    return {text for text in written if len(text) >= _TELLING}


def _hider(editor: Editor | None) -> Callable[[str], str]:
    """Return what leaves out, from words about the error, the texts of the job."""
    written = sorted(written_in(editor), key=len, reverse=True) if editor is not None else []
    if not written:
        return str
    pattern = re.compile("|".join(rf"(?<!\w){re.escape(text)}(?!\w)" for text in written))
    return lambda words: pattern.sub(lambda found: f"[{_length(found[0])}]", words)


def _quantity(value: Measured) -> str:
    if value.si is None:
        return _("not read: {text}").format(text=_length(value.typed))
    return f"{value.si!r} SI, {value.unit or '-'}"


def _day(value: Day) -> str:
    if value.value is None:
        return _("not read: {text}").format(text=_length(value.typed))
    return value.value.isoformat()


def _length(text: str) -> str:
    words = ngettext("text of {n} character", "text of {n} characters", len(text))
    return words.format(n=len(text))


def _own_version() -> str:
    return f"Ductfolio {own_version()}".rstrip()


def _without_home(text: str) -> str:
    """Return `text` without the name of the person's own folder, which tells who they are."""
    home = str(Path.home())
    return text.replace(home, "~") if len(home) > 1 else text
