"""The text of a job file: an envelope with format and version around the job itself."""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from typing import Any, cast

from pydantic import ValidationError

from deskapp.archive.migrations.registry import CURRENT_VERSION, bring_up_to_date
from deskapp.archive.problems import JobFileProblem
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.job import Job
from deskapp.i18n import N_, _, ngettext

FORMAT = "ductfolio-job"

_MOST_ERRORS_TOLD = 3
_WHAT_IS_WRONG = {
    "missing": N_("is missing"),
    "extra_forbidden": N_("is not known here"),
    "enum": N_("must be one of these words: {expected}"),
    "literal_error": N_("must be one of these words: {expected}"),
    "union_tag_invalid": N_("must be one of these words: {expected_tags}"),
    "float_type": N_("must be a number"),
    "finite_number": N_("must be a finite number"),
    "int_type": N_("must be a whole number"),
    "string_type": N_("must be text in quotation marks"),
    "tuple_type": N_("must be a list"),
    "model_type": N_("must be a group of fields"),
    "model_attributes_type": N_("must be a group of fields"),
    "date_type": N_("must be a day such as 2026-03-11"),
    "date_parsing": N_("must be a day such as 2026-03-11"),
    "date_from_datetime_parsing": N_("must be a day such as 2026-03-11"),
}


def text_of(job: Job) -> bytes:
    """Return the job as UTF-8 text; the same job always gives the same bytes.

    Halves of characters, which no text file can hold, become question marks.
    """
    envelope = {
        "format": FORMAT,
        "version": CURRENT_VERSION,
        "job": job.model_dump(mode="json"),
    }
    text = json.dumps(envelope, ensure_ascii=False, indent=1, allow_nan=False)
    return f"{text}\n".encode("utf-8", "replace")


def job_from_text(text: bytes, name: str) -> Job:
    """Read a job from the text of a job file; `name` is the file name used in messages.

    Raises JobFileProblem: ``damaged``, ``not-a-job``, ``newer-version``, ``field``, ``double-key``.
    """
    envelope = _plain_data(text, name)
    if envelope.get("format") != FORMAT:
        raise JobFileProblem(
            "not-a-job",
            _(
                "{name} is not a Ductfolio job: its format mark is {found}, "
                "where {wanted} is needed."
            ).format(name=name, found=_shown(envelope.get("format")), wanted=f'"{FORMAT}"'),
        )
    version = _version(envelope.get("version"), name)
    plain: Any = envelope.get("job")
    if not isinstance(plain, dict):
        raise _damaged(name, _("the job itself is missing from it"))
    current = bring_up_to_date(cast("dict[str, Any]", plain), version)
    try:
        job = Job.model_validate_json(json.dumps(current), strict=True)
    except ValidationError as error:
        raise _field_problem(error, name) from error
    _refuse_double_keys(job, name)
    return job


def _plain_data(text: bytes, name: str) -> dict[str, Any]:
    try:
        data: Any = json.loads(text.decode("utf-8-sig"), parse_constant=_refuse_constant)
    except UnicodeDecodeError as error:
        raise _damaged(name, _("it is not UTF-8 text")) from error
    except json.JSONDecodeError as error:
        where = _("line {line}, column {column} cannot be read").format(
            line=error.lineno, column=error.colno
        )
        raise _damaged(name, where) from error
    except (ValueError, RecursionError) as error:
        raise _damaged(name, str(error)) from error
    if not isinstance(data, dict):
        raise JobFileProblem(
            "not-a-job",
            _("{name} is not a Ductfolio job: it holds no job record.").format(name=name),
        )
    return cast("dict[str, Any]", data)


def _refuse_constant(word: str) -> float:
    raise ValueError(_("it holds {word} where a number belongs").format(word=word))


def _version(version: object, name: str) -> int:
    if isinstance(version, bool) or not isinstance(version, int) or version < 1:
        raise _damaged(name, _("its version is {found}").format(found=_shown(version)))
    if version > CURRENT_VERSION:
        raise JobFileProblem(
            "newer-version",
            _(
                "{name} was made by a newer Ductfolio, version {found} of the job format; "
                "this one reads up to {known}. Update Ductfolio to open it. "
                "The file was not changed."
            ).format(name=name, found=version, known=CURRENT_VERSION),
        )
    return version


def _damaged(name: str, why: str) -> JobFileProblem:
    return JobFileProblem(
        "damaged",
        _("{name} is damaged: {why}. Open an earlier copy of it. The file was not changed.").format(
            name=name, why=why
        ),
    )


def _shown(value: object) -> str:
    if value is None:
        return _("missing")
    text = json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= 40 else text[:39] + "…"


def _field_problem(error: ValidationError, name: str) -> JobFileProblem:
    details = error.errors(include_url=False)
    told = [
        f"{_field_words(detail['loc'])} {_wrong_words(detail)}"
        for detail in details[:_MOST_ERRORS_TOLD]
    ]
    text = _("{name} cannot be opened: {told}.").format(name=name, told="; ".join(told))
    if len(details) > _MOST_ERRORS_TOLD:
        more = len(details) - _MOST_ERRORS_TOLD
        also = ngettext(
            "{more} more field is not right either.",
            "{more} more fields are not right either.",
            more,
        )
        text = f"{text} {also.format(more=more)}"
    mend = _("Correct the file where it was edited by hand, or open an earlier copy of it.")
    return JobFileProblem("field", f"{text} {mend}")


def _field_words(location: tuple[int | str, ...]) -> str:
    parts = [str(part) for part in location]
    for length in range(len(parts), 0, -1):
        path = ".".join(parts[:length])
        try:
            field_at(path)
        except KeyError:
            continue
        return f"“{label_of(path)}”"
    return f"“{label_of('.'.join(parts))}”"


def _wrong_words(detail: Mapping[str, Any]) -> str:
    words = _WHAT_IS_WRONG.get(detail["type"])
    if words is None:
        return _("is not right ({message})").format(message=detail["msg"])
    context = cast("dict[str, Any]", detail.get("ctx", {}))
    told = _(words).format(**context)
    if detail["type"] in ("missing", "extra_forbidden"):
        return f"{told} ({'.'.join(str(part) for part in detail['loc'])})"
    return _("{told}; found {found}").format(told=told, found=_shown(detail.get("input")))


def _refuse_double_keys(job: Job, name: str) -> None:
    lists: dict[str, Iterable[str]] = {
        "systems": (row.key for row in job.systems),
        "gauges": (row.key for row in job.gauges),
        "fans": (row.key for row in job.fans),
        "tests": (row.key for row in job.tests),
        "leaks": (row.key for row in job.leaks),
        "appliances": (row.key for row in job.appliances),
        "arrival": (row.key for row in job.arrival),
        "compliance.limits": (row.key for row in job.compliance.limits),
    }
    for position, fan in enumerate(job.fans):
        lists[f"fans.{position}.rings"] = (ring.key for ring in fan.rings)
    for path, keys in lists.items():
        seen: set[str] = set()
        for position, key in enumerate(keys):
            if key in seen:
                raise JobFileProblem(
                    "double-key",
                    _(
                        "{name} cannot be opened: {row} has the key “{key}”, which another "
                        "row of the same list already has. Give each row a key of its own."
                    ).format(name=name, row=label_of(f"{path}.{position}"), key=key),
                )
            seen.add(key)
