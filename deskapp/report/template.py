"""Report templates: which blocks, in which order, in which words. Read from TOML and checked."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Annotated, ClassVar, cast, get_args

from pydantic import BaseModel, Field, ValidationError

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

AnyBlock = Annotated[
    common.LetterheadSpec
    | common.TextSpec
    | common.CautionsSpec
    | common.FactsSpec
    | common.LeaksSpec
    | common.LeakTableSpec
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
    | safety.AcknowledgedSpec
    | safety.BeforeAfterSpec
    | safety.LeftAsFoundSpec
    | safety.StillChangedSpec
    | owner.CloseSpec
    | owner.DeliverySpec
    | owner.WorstRegistersSpec
    | papers.PartSpec
    | papers.RevisionsSpec
    | papers.EditionsSpec
    | papers.InstrumentTableSpec
    | evidence.HouseSpec
    | evidence.PansSpec
    | evidence.GuidanceSpec,
    Field(discriminator="kind"),
]


_BLOCK_LINE = re.compile(r"^[ \t]*\[\[[ \t]*block[ \t]*\]\]", re.MULTILINE)


class Words(Wording):
    """Short words that many blocks share."""

    names: ClassVar[tuple[str, ...]] = ("page", "pages")

    page: str
    header_left: str
    header_right: str
    footer: tuple[str, ...]
    not_recorded: str
    danger: str
    warning: str
    note: str
    stop: str
    check: str
    status: dict[Verification, str]
    status_warning: dict[Verification, str] = Field(default_factory=dict[Verification, str])


class Template(Wording):
    """A report as data. `text_size` is the size of running text in points."""

    names: ClassVar[tuple[str, ...]] = ()

    id: str = Field(min_length=1)
    title: str
    subject: str = ""
    language: str = "en"
    audience: Audience
    text_size: float = Field(default=10.0, ge=8.0, le=16.0)
    words: Words
    needed: tuple[compliance.Needed, ...] = ()
    block: tuple[AnyBlock, ...] = Field(min_length=1)


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
    """Read and check one template.

    Raises:
        TemplateProblem: the file cannot be read, or something in it is not as it should be.
    """
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
    try:
        return Template.model_validate(data)
    except ValidationError as error:
        raise TemplateProblem(_problem(path, source, data, error)) from error


def _problem(path: Path, source: str, data: dict[str, object], error: ValidationError) -> str:
    lines = [
        _("{file}, {place}: {what}.").format(
            file=path.name,
            place=_place(tuple(fault["loc"]), source, data),
            what=_fault(fault["type"], fault["msg"], tuple(fault["loc"])),
        )
        for fault in error.errors(include_url=False)[:5]
    ]
    return "\n".join(lines)


def _fault(kind: str, message: str, loc: tuple[int | str, ...]) -> str:
    """Return what is wrong and what is allowed."""
    if kind == "missing":
        return _("this entry is needed")
    if kind == "extra_forbidden":
        record = _record_at(loc)
        if record is None:
            return _("there is no such entry")
        allowed = ", ".join(sorted(record.model_fields))
        return _("there is no such entry; allowed are {allowed}").format(allowed=allowed)
    return message.removeprefix("Value error, ").rstrip(".")


def _record_at(loc: tuple[int | str, ...]) -> type[BaseModel] | None:
    """Return the record an unknown entry was put into, for the top of the file and for blocks."""
    if len(loc) == 1:
        return Template
    if len(loc) == 4 and loc[0] == "block":
        return next((spec for spec in _BLOCKS if _kind_of(spec) == loc[2]), None)
    return None


def _kind_of(spec: type[BaseModel]) -> str:
    return cast("str", get_args(spec.model_fields["kind"].annotation)[0])


_BLOCKS = cast("tuple[type[BaseModel], ...]", get_args(get_args(AnyBlock)[0]))


def _place(loc: tuple[int | str, ...], source: str, data: dict[str, object]) -> str:
    """Return where a fault is: block, its kind, the line it starts on, and the entry."""
    if len(loc) < 2 or loc[0] != "block" or not isinstance(loc[1], int):
        return ".".join(str(part) for part in loc) or _("top of the file")
    blocks = cast("list[dict[str, object]]", data["block"])
    number = loc[1]
    kind = str(blocks[number].get("kind", _("no kind")))
    entry = ".".join(str(part) for part in loc[2:] if part != kind)
    starts = [
        match.start() for match in re.finditer(r"(?m)^[ \t]*\[\[[ \t]*block[ \t]*\]\]", source)
    ]
    line = source.count("\n", 0, starts[number]) + 1 if number < len(starts) else None
    where = _("block {number} ({kind})").format(number=number + 1, kind=kind)
    if line is not None:
        where = _("{where}, which starts on line {line}").format(where=where, line=line)
    return f"{where}, {entry}" if entry else where
