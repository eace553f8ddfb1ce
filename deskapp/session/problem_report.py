"""What can be sent to whoever mends the program: the error, the version, the job without names."""

from __future__ import annotations

import platform
import re
from collections import Counter
from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, cast

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
_OUR_WORDS = frozenset(
    {"key", "unit", "digest", "original", "mark", "file_mark", "frozen", "edition", "stop"}
)
"""Names of what the program itself writes into a job: keys, units, digests, texts of limits."""
_CUT_TEXT = re.compile(r"(?<=input_value=).*(?=, input_type=)")
"""What a record that refuses a value quotes of it, the middle cut out, so that no text is found."""


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
        *(line if is_code else hidden(line) for line, is_code in _lines_of(trace)),
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
    """Return all that somebody wrote in the job, and the name of its file and of its folder.

    Answers chosen from a list, and what the program put there, are not among it.
    """
    job, path = editor.job, editor.path
    written = set(_texts_in(job.model_dump()))
    chosen = (Form.CHOICE, Form.REFERENCE)
    for spec in FIELDS:
        if spec.form in chosen:
            written -= {str(value) for _path, value in expand(job, spec.path)}
    if path is not None:
        written |= {path.stem, str(path.parent), str(path.absolute().parent)}
    written |= {line.strip() for text in written for line in text.splitlines()}
    written |= {repr(text)[1:-1] for text in written}
    return {text for text in written if len(text) >= _TELLING}


def _texts_in(value: object) -> Iterator[str]:
    """Yield the texts of records, those the program put there left out."""
    if isinstance(value, dict):
        for name, inside in cast("dict[str, object]", value).items():
            if name not in _OUR_WORDS:
                yield from _texts_in(inside)
    elif isinstance(value, list | tuple):
        for inside in cast("Iterable[object]", value):
            yield from _texts_in(inside)
    elif isinstance(value, str) and not isinstance(value, Enum):
        yield value


def _lines_of(trace: str) -> Iterator[tuple[str, bool]]:
    """Yield the lines of an error, and whether each is code of the program or says where it is."""
    is_code = False
    for line in trace.strip().splitlines():
        is_code = line.startswith('  File "') or (is_code and line.startswith("    "))
        yield line, is_code


def _hider(editor: Editor | None) -> Callable[[str], str]:
    """Return what leaves out, from words about the error, the texts of the job."""
    written = sorted(written_in(editor), key=len, reverse=True) if editor is not None else []
    pattern = re.compile("|".join(rf"(?<!\w){re.escape(text)}(?!\w)" for text in written) or "(?!)")

    def hide(words: str) -> str:
        cut = _CUT_TEXT.sub("…", words)
        return pattern.sub(lambda found: f"[{_length(found[0])}]", cut)

    return hide


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
