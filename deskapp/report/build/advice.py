"""Running text, cautions, findings and what to do next."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from deskapp.domain.cautions import cautions_for
from deskapp.domain.finding import Level
from deskapp.domain.vocabulary import Caution, CautionLevel
from deskapp.i18n import _
from deskapp.report.blocks import Banner, Notice, Notices, Numbered, Paragraph, Sign, TextSpan
from deskapp.report.build.safety import below_dangers
from deskapp.report.build.wording import fill_text, has_all
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_common import CautionsSpec, TextSpec
    from deskapp.report.template_compliance import FindingsSpec
    from deskapp.report.template_homeowner import DangersSpec, NextStepsSpec

_CAUTION_SIGNS = {
    CautionLevel.DANGER: Sign.DANGER,
    CautionLevel.WARNING: Sign.WARNING,
    CautionLevel.NOTE: Sign.NOTE,
}
_LEVEL_SIGNS = {Level.STOP: Sign.DANGER, Level.CHECK: Sign.WARNING, Level.NOTE: Sign.NOTE}


def running_text(context: Context, spec: TextSpec) -> list[Block]:
    """Build running text: the sentences that apply, one paragraph each."""
    return [
        Paragraph(fill_text(sentence.text, context.names), spec.role)
        for sentence in spec.sentences
        if context.prints(sentence.when, sentence.unless) and has_all(sentence.text, context.names)
    ]


def dangers(context: Context, spec: DangersSpec) -> list[Block]:
    """Build one panel with the dangers the job calls for, and who went past their stops.

    Below them stand those that were over when the work was done; alone they are a warning.
    """
    called_for = _cautions(context)
    now = [one for one in called_for if one.level is CautionLevel.DANGER]
    over = [one for name in spec.also for one in called_for if one.id == name]
    texts = tuple((TextSpan(printable(_(caution.text))),) for caution in (*now, *over))
    words = context.template.words
    if now:
        return [Banner(Sign.DANGER, words.danger, (*texts, *below_dangers(context)))]
    if over:
        return [Banner(Sign.WARNING, words.warning, (*texts, fill_text(spec.aside, context.names)))]
    return []


def cautions(context: Context, spec: CautionsSpec) -> list[Block]:
    """Build the cautions of the wanted levels that the job calls for."""
    words = context.template.words
    named = {
        CautionLevel.DANGER: words.danger,
        CautionLevel.WARNING: words.warning,
        CautionLevel.NOTE: words.note,
    }
    items = tuple(
        Notice(
            sign=_CAUTION_SIGNS[caution.level],
            word=named[caution.level],
            text=(TextSpan(printable(_(caution.text))),),
            source=_source(caution) if spec.sources else "",
        )
        for caution in _cautions(context)
        if caution.level in spec.levels and caution.id not in spec.already
    )
    return [Notices(_word_once(items))] if items else []


def findings(context: Context, spec: FindingsSpec) -> list[Block]:
    """Build what the program found, in the words of the window."""
    words = context.template.words
    named = {Level.STOP: words.stop, Level.CHECK: words.check, Level.NOTE: words.note}
    items = tuple(
        Notice(
            _LEVEL_SIGNS[finding.level], named[finding.level], (TextSpan(printable(finding.text)),)
        )
        for finding in context.source.assessment.findings
        if finding.level in spec.levels
    )
    if items:
        return [Notices(_word_once(items))]
    none_found = fill_text(spec.none_found, context.names)
    return [Paragraph(none_found)] if none_found else []


def next_steps(context: Context, spec: NextStepsSpec) -> list[Block]:
    """Build what to do next, the first steps first."""
    steps = [
        fill_text(step.text, context.names)
        for step in spec.steps
        if context.prints(step.when, step.unless) and has_all(step.text, context.names)
    ]
    return [Numbered(tuple(steps[: spec.most]))] if steps else []


def _cautions(context: Context) -> tuple[Caution, ...]:
    return cautions_for(context.job, context.source.cautions, context.template.audience)


def _word_once(items: tuple[Notice, ...]) -> tuple[Notice, ...]:
    """Leave out the word of a notice that repeats the one before it."""
    words = ("", *(item.word for item in items))
    return tuple(
        replace(item, word="") if item.word == before else item
        for item, before in zip(items, words, strict=False)
    )


def _source(caution: Caution) -> str:
    source = _(caution.source)
    return printable(source[:1].upper() + source[1:])
