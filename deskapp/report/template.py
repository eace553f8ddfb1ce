"""Report templates: which blocks, in which order, in which words. Read from TOML and checked."""

from __future__ import annotations

import tomllib
from copy import deepcopy
from functools import lru_cache
from pathlib import Path
from typing import Annotated, Any, ClassVar, NamedTuple, Self, cast, get_args

from pydantic import BaseModel, Field, ValidationError, model_validator

from deskapp.catalog.data_words import template_words
from deskapp.domain.limit import Verification
from deskapp.domain.vocabulary import Audience
from deskapp.i18n import ENGLISH, _, language, language_tag
from deskapp.report import template_common as common
from deskapp.report import template_compliance as compliance
from deskapp.report import template_evidence as evidence
from deskapp.report import template_homeowner as homeowner
from deskapp.report import template_nested as nested
from deskapp.report import template_owner as owner
from deskapp.report import template_papers as papers
from deskapp.report import template_safety as safety
from deskapp.report.template_base import Wording
from deskapp.report.toml_lines import line_of, lines_of

AnyBlock = Annotated[
    common.LetterheadSpec
    | common.TextSpec
    | common.CautionsSpec
    | common.FactsSpec
    | common.LeaksSpec
    | common.LeakTableSpec
    | common.LedgerSpec
    | common.RetestSpec
    | common.PhotosSpec
    | common.SketchSpec
    | common.PageBreakSpec
    | homeowner.DangersSpec
    | homeowner.AnswerSpec
    | homeowner.SystemLinesSpec
    | homeowner.ScaleSpec
    | homeowner.NextStepsSpec
    | homeowner.HoleSpec
    | compliance.MissingSpec
    | compliance.LongTextsSpec
    | nested.EachSystemSpec
    | compliance.VerdictsSpec
    | compliance.LimitsSpec
    | compliance.SystemFactsSpec
    | compliance.SetUpSpec
    | compliance.ReadingsSpec
    | compliance.ComparisonSpec
    | compliance.ArithmeticSpec
    | compliance.InstrumentsSpec
    | compliance.FindingsSpec
    | compliance.SignatureSpec
    | safety.AppliancesSpec
    | safety.StopsSpec
    | safety.AcknowledgedSpec
    | safety.BeforeAfterSpec
    | safety.LeftAsFoundSpec
    | safety.StillChangedSpec
    | owner.CloseSpec
    | owner.DeliverySpec
    | owner.WorstRegistersSpec
    | papers.PartSpec
    | papers.RevisionsSpec
    | papers.IssueMarkSpec
    | papers.EditionsSpec
    | papers.WhatChangedSpec
    | papers.InstrumentTableSpec
    | evidence.HouseSpec
    | evidence.PansSpec
    | evidence.RegisterWalkSpec
    | evidence.GuidanceSpec,
    Field(discriminator="kind"),
]


class SharedWords(Wording):
    """Short words that many blocks share."""

    names: ClassVar[tuple[str, ...]] = ("page", "pages", "heading")

    page: str
    header_left: str
    header_right: str
    footer: tuple[str, ...]
    not_recorded: str
    continued: str = ""
    danger: str
    warning: str
    note: str
    stop: str
    check: str
    status: dict[Verification, str]
    status_warning: dict[Verification, str] = Field(default_factory=dict[Verification, str])


STAYING: dict[str, tuple[str, ...]] = {
    "homeowner": ("dangers", "stops", "answer", "cautions"),
    "compliance": ("stops", "verdicts", "missing", "limits", "signature"),
    "technical": ("stops", "verdicts", "findings", "cautions"),
    "retest": ("stops", "verdicts", "what_changed", "cautions"),
}
"""Blocks a report cannot do without: what may harm somebody, and what an official looks for."""


class Template(Wording):
    """A report as data. `text_size` is the size of running text in points.

    `id` is the kind of report, `name` what a company calls its own template.
    """

    names: ClassVar[tuple[str, ...]] = ()

    id: str = Field(min_length=1)
    name: str = ""
    title: str
    subject: str = ""
    language: str = "en"
    audience: Audience
    text_size: float = Field(default=10.0, ge=8.0, le=16.0)
    words: SharedWords
    needed: tuple[compliance.Needed, ...] = ()
    block: tuple[AnyBlock, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _keeps_what_has_to_stay(self) -> Self:
        shown = {spec.kind for spec in self.block if spec.shown}
        gone = [kind for kind in STAYING.get(self.id, ()) if kind not in shown]
        if gone:
            raise ValueError(
                _("this report needs a block of each of these kinds, shown: {kinds}").format(
                    kinds=", ".join(gone)
                )
            )
        return self


class TemplateProblem(Exception):  # noqa: N818 - it is told to the user as a problem
    """A template that cannot be used; `text` says which file, where in it, and what is allowed."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.text = text


def in_words_of_the_language(template: Template) -> Template:
    """Return one of our own templates with its words in the language in use."""
    if language() == ENGLISH:
        return template
    data = template_words(template.model_dump(mode="json", exclude_unset=True), _)
    return Template.model_validate(data | {"language": language_tag()})


def read_template(path: Path) -> Template:
    """Read and check one template; a file that is as it was when last read is not read again.

    Raises:
        TemplateProblem: the file cannot be read, or something in it is not as it should be.
    """
    return _read(path).template


def read_data(path: Path) -> dict[str, Any]:
    """Return the data of a template file, to be changed; raises as `read_template` does."""
    return deepcopy(_read(path).data)


class _TemplateFile(NamedTuple):
    data: dict[str, Any]
    template: Template


def _read(path: Path) -> _TemplateFile:
    try:
        now = path.stat()
    except OSError:
        return _read_anew(path)
    return _read_once(path, (now.st_ino, now.st_mtime_ns, now.st_ctime_ns, now.st_size))


@lru_cache(maxsize=16)
def _read_once(path: Path, _as_it_stands: tuple[int, ...]) -> _TemplateFile:
    return _read_anew(path)


def _read_anew(path: Path) -> _TemplateFile:
    try:
        source = path.read_text(encoding="utf-8")
        data = tomllib.loads(source)
    except OSError as error:
        raise TemplateProblem(
            _("The report template {file} cannot be read: {why}.").format(
                file=path.name, why=error.strerror or type(error).__name__
            )
        ) from error
    except ValueError as error:
        raise TemplateProblem(
            _("The report template {file} is not well-formed TOML: {why}.").format(
                file=path.name, why=str(error).rstrip(".")
            )
        ) from error
    return _TemplateFile(data, check_template(data, path.name, lines_of(source)))


def check_template(
    data: dict[str, object], file: str, lines: dict[tuple[str | int, ...], int] | None = None
) -> Template:
    """Return the template that `data` makes.

    Raises TemplateProblem, which names `file`, the line where `lines` know it, and the place.
    """
    try:
        return Template.model_validate(data)
    except ValidationError as error:
        raise TemplateProblem(_problem(data, file, lines, error)) from error


def _problem(
    data: dict[str, object],
    file: str,
    lines: dict[tuple[str | int, ...], int] | None,
    error: ValidationError,
) -> str:
    told: list[str] = []
    for fault in error.errors(include_url=False)[:5]:
        loc = tuple(fault["loc"])
        named = fault["msg"].removeprefix(_VALUE_ERROR).partition(":")[0]
        at = _path_in(data, (*loc, *named.split(".")))
        what = _fault(fault["type"], fault["msg"], loc, at)
        place = _place(at, data)
        if lines is not None:
            line = line_of(lines, at)
            place = _("line {line} ({place})").format(line=line, place=place)
        told.append(_("{file}, {place}: {what}.").format(file=file, place=place, what=what))
    return "\n".join(told)


def _fault(kind: str, message: str, loc: tuple[int | str, ...], at: tuple[int | str, ...]) -> str:
    """Return what is wrong and what is allowed."""
    if kind == "missing":
        return _("{entry} is needed").format(entry=loc[-1])
    if kind == "extra_forbidden":
        record = _record_at(loc, at)
        if record is None:
            return _("there is no such entry")
        allowed = ", ".join(sorted(record.model_fields))
        return _("there is no such entry; allowed are {allowed}").format(allowed=allowed)
    return message.removeprefix(_VALUE_ERROR).rstrip(".")


def _record_at(loc: tuple[int | str, ...], at: tuple[int | str, ...]) -> type[BaseModel] | None:
    """Return the record an unknown entry was put into, for the top of the file and for blocks."""
    if len(at) == 1:
        return Template
    if len(at) > _OF_BLOCK and at[-3] == "block":
        return next((spec for spec in _BLOCKS if _kind_of(spec) == loc[-2]), None)
    return None


def _kind_of(spec: type[BaseModel]) -> str:
    return cast("str", get_args(spec.model_fields["kind"].annotation)[0])


def _members(union: object) -> tuple[type[BaseModel], ...]:
    return cast("tuple[type[BaseModel], ...]", get_args(union))


_OF_BLOCK = 2
_VALUE_ERROR = "Value error, "
_BLOCKS = (*_members(get_args(AnyBlock)[0]), *_members(nested.InnerSpec))


def _path_in(data: dict[str, object], loc: tuple[int | str, ...]) -> tuple[int | str, ...]:
    """Return `loc` without what is not in the file: kinds of blocks, and entries that lack."""
    at: list[int | str] = []
    here: object = data
    for part in loc:
        if isinstance(here, dict) and part in here:
            here = cast("dict[object, object]", here)[part]
        elif isinstance(here, list) and isinstance(part, int):
            here = cast("list[object]", here)[part]
        else:
            continue
        at.append(part)
    return tuple(at)


def _place(at: tuple[int | str, ...], data: dict[str, object]) -> str:
    """Return where a fault is in words: the block by number and kind, and the entry."""
    if len(at) < _OF_BLOCK or at[0] != "block" or not isinstance(at[1], int):
        return ".".join(str(part) for part in at) or _("top of the file")
    blocks = cast("list[dict[str, object]]", data["block"])
    kind = str(blocks[at[1]].get("kind", _("no kind")))
    where = _("block {number}, {kind}").format(number=at[1] + 1, kind=kind)
    entry = ".".join(str(part) for part in at[2:])
    return f"{where}, {entry}" if entry else where
