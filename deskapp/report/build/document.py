"""From a job and a template to a finished document."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from deskapp.domain.branding import Branding
from deskapp.domain.checks_length import shortened
from deskapp.report import template_common as common
from deskapp.report import template_compliance as compliance
from deskapp.report import template_evidence as evidence_spec
from deskapp.report import template_homeowner as homeowner
from deskapp.report import template_nested as nested
from deskapp.report import template_owner as owner_spec
from deskapp.report import template_papers as papers_spec
from deskapp.report import template_safety as safety_spec
from deskapp.report.blocks import Document, Heading, Letterhead, PageBreak, Running
from deskapp.report.build import (
    advice,
    curves,
    evidence,
    leaks,
    owner,
    pans,
    papers,
    photos,
    records,
    register_walk,
    repairs,
    safety,
    scales,
    sureness,
    trials,
    verdicts,
    what_changed,
)
from deskapp.report.build.context import Context, SystemView, context_of
from deskapp.report.build.long_texts import long_texts
from deskapp.report.build.missing import missing_block
from deskapp.report.build.wording import fill, has_all, logo_words
from deskapp.report.color import readable_on_white
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.report.blocks import Block
    from deskapp.report.build.report_input import ReportInput
    from deskapp.report.template import AnyBlock, Template
    from deskapp.report.template_base import BlockSpec


def build(template: Template, source: ReportInput) -> Document:
    """Return the finished report of a job: nothing is decided after this.

    The same input gives the same document. It never raises for what a person typed; a job with
    nothing in it gives a report that says so.
    """
    whole = source.job
    if any(isinstance(spec, compliance.LongTextsSpec) and spec.shown for spec in template.block):
        source = replace(source, job=shortened(whole))
    context = context_of(source, template)
    words = template.words
    names = context.names
    blocks: list[Block] = []
    for spec in template.block:
        if isinstance(spec, compliance.LongTextsSpec):
            texts = long_texts(context, spec, whole, blocks) if spec.shown else []
            blocks += [*_opening(context, spec, {}), *texts] if texts else []
        else:
            blocks += _blocks(context, spec)
    return Document(
        title=fill(template.title, names),
        subject=fill(template.subject, names),
        author=names["company"],
        language=template.language,
        paper=source.paper,
        accent=readable_on_white(source.branding.accent, Branding().accent),
        text_size=template.text_size,
        issued_on=source.issued_on,
        running=Running(
            header_left=fill(words.header_left, names),
            header_right=fill(words.header_right, names),
            footer_left=" · ".join(
                fill(part, names) for part in words.footer if has_all(part, names)
            ),
            page_words=fill(words.page, {"page": "{page}", "pages": "{pages}"}),
            continued=fill(words.continued, {"heading": "{heading}"}),
        ),
        blocks=tuple(blocks),
        logo=source.logo,
    )


def _blocks(context: Context, spec: AnyBlock | nested.InnerSpec) -> list[Block]:
    """Return the blocks of one entry of the template, with its heading; none if it has nothing."""
    if not spec.shown or not context.prints(spec.when, spec.unless):
        return []
    if isinstance(spec, common.PageBreakSpec):
        return [PageBreak()]
    if isinstance(spec, nested.EachSystemSpec):
        return _each_system(context, spec)
    if isinstance(spec, nested.EachTestSpec):
        return _each_test(context, spec)
    builder: Callable[..., list[Block]] = _BUILDERS[type(spec)]
    blocks = builder(context, spec)
    if not blocks:
        return []
    return [*_opening(context, spec, {}), *blocks]


def _each_system(context: Context, spec: nested.EachSystemSpec) -> list[Block]:
    blocks: list[Block] = []
    for view in (*context.systems, *context.others):
        inner = [block for part in spec.block for block in _blocks(context.only(view), part)]
        if inner:
            blocks += [*_opening(context, spec, _system_names(view)), *inner]
    return blocks


def _each_test(context: Context, spec: nested.EachTestSpec) -> list[Block]:
    blocks: list[Block] = []
    for view in context.systems:
        told = frozenset[str]()
        for part in spec.block:
            if spec.shared and isinstance(part, compliance.SetUpSpec):
                told |= records.alike(context, part, view)
                once = records.shared_set_up(context, part, view, told)
                blocks += (
                    [Heading(fill(spec.shared, context.names), spec.level), *once] if once else []
                )
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            one = context.only_test(test, told)
            inner = [block for part in spec.block for block in _blocks(one, part)]
            blocks += [*_opening(context, spec, trials.names_of_test(context, view, test)), *inner]
    return blocks


def _system_names(view: SystemView) -> dict[str, str]:
    return {"system": view.name, "serves": view.system.serves, "number": str(view.index + 1)}


def _opening(context: Context, spec: BlockSpec, names: dict[str, str]) -> list[Block]:
    opening: list[Block] = [PageBreak()] if spec.new_page else []
    if spec.heading:
        text = fill(spec.heading, {**context.names, **names})
        opening.append(Heading(text.rstrip(" ,·:"), spec.level))
    return opening


def _letterhead(context: Context, spec: common.LetterheadSpec) -> list[Block]:
    branding = context.source.branding
    reach = " · ".join(part for part in (branding.phone, branding.email) if part)
    contact = (branding.license, branding.address, reach)
    return [
        Letterhead(
            company=printable(branding.company or context.job.tester.company),
            contact=tuple(printable(line) for line in contact if line),
            title=fill(spec.title, context.names),
            subtitle=tuple(
                fill(line, context.names) for line in spec.subtitle if has_all(line, context.names)
            ),
            logo_description=logo_words(
                context.source.logo, branding.company or context.job.tester.company
            ),
        )
    ]


_BUILDERS: dict[type[BlockSpec], Callable[..., list[Block]]] = {
    common.LetterheadSpec: _letterhead,
    common.TextSpec: advice.running_text,
    common.CautionsSpec: advice.cautions,
    common.FactsSpec: records.facts,
    common.LeaksSpec: leaks.leak_entries,
    common.LeakTableSpec: leaks.leak_table,
    common.PhotosSpec: photos.photos,
    common.SketchSpec: photos.sketch,
    common.LedgerSpec: repairs.ledgers,
    common.RetestSpec: repairs.retests,
    homeowner.DangersSpec: advice.dangers,
    homeowner.AnswerSpec: verdicts.answer,
    homeowner.SystemLinesSpec: verdicts.system_lines,
    homeowner.ScaleSpec: scales.scales,
    homeowner.NextStepsSpec: advice.next_steps,
    homeowner.HoleSpec: scales.holes,
    owner_spec.CloseSpec: owner.close,
    owner_spec.DeliverySpec: owner.delivery,
    owner_spec.WorstRegistersSpec: owner.worst_registers,
    safety_spec.AppliancesSpec: safety.appliances,
    safety_spec.StopsSpec: safety.stops,
    safety_spec.AcknowledgedSpec: safety.acknowledged,
    safety_spec.BeforeAfterSpec: safety.before_after,
    safety_spec.LeftAsFoundSpec: safety.left_as_found,
    safety_spec.StillChangedSpec: safety.still_changed,
    compliance.MissingSpec: missing_block,
    compliance.VerdictsSpec: verdicts.verdict_cards,
    compliance.LimitsSpec: verdicts.limits,
    compliance.SystemFactsSpec: records.system_facts,
    compliance.SetUpSpec: records.set_up,
    compliance.ReadingsSpec: trials.readings,
    compliance.ComparisonSpec: trials.comparison,
    compliance.ArithmeticSpec: trials.arithmetic,
    compliance.InstrumentsSpec: records.instruments,
    compliance.FindingsSpec: advice.findings,
    compliance.SignatureSpec: records.signature,
    papers_spec.PartSpec: papers.part,
    papers_spec.RevisionsSpec: papers.revisions,
    papers_spec.IssueMarkSpec: papers.issue_mark,
    papers_spec.EditionsSpec: papers.editions,
    papers_spec.WhatChangedSpec: what_changed.what_changed,
    papers_spec.InstrumentTableSpec: papers.instrument_table,
    evidence_spec.BudgetSpec: sureness.budget,
    evidence_spec.FitSpec: curves.fit,
    evidence_spec.DirectionsSpec: evidence.directions,
    evidence_spec.OutsideSpec: evidence.outside,
    evidence_spec.ClassesSpec: evidence.classes,
    evidence_spec.HouseSpec: evidence.house_air,
    evidence_spec.SidesSpec: evidence.sides,
    evidence_spec.PansSpec: pans.pans,
    evidence_spec.RegisterWalkSpec: register_walk.register_walk,
    evidence_spec.GuidanceSpec: evidence.guidance,
}
