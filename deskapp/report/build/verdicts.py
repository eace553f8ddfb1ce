"""The outcome: of the whole job in words, of each system on a line, of each limit on a card."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.conformity import chance_words
from deskapp.assess.explain import (
    LinePart,
    explain_in,
    unfit,
    unsettled,
    unsettled_aspects,
)
from deskapp.domain.limit import Verification
from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.domain.result_parts import BudgetOf
from deskapp.i18n import N_, _, in_sentence
from deskapp.report.blocks import (
    Banner,
    Figure,
    Heading,
    Lines,
    Paragraph,
    Sign,
    SignedLine,
    SignedLines,
    Text,
    TextRole,
    TextSpan,
    VerdictCard,
)
from deskapp.report.build.context import VERDICT_SIGNS, Context, SystemView
from deskapp.report.build.figures import ExactFigures, exact_figures, plain_figures
from deskapp.report.build.wording import fill, fill_text, has_all
from deskapp.report.plain_text import printable
from deskapp.report.template_base import Situation

if TYPE_CHECKING:
    from deskapp.report.blocks import Block
    from deskapp.report.template_compliance import LimitsSpec, VerdictsSpec
    from deskapp.report.template_homeowner import AnswerSpec, SystemLinesSpec, VerdictWording

_BESIDE_THE_FLOW = {
    BudgetOf.PER_AREA: N_("the floor area"),
    BudgetOf.FAN_SHARE: N_("the air handler's flow"),
    BudgetOf.PER_SURFACE: N_("the duct surface"),
}


def answer(context: Context, spec: AnswerSpec) -> list[Block]:
    """Build the outcome of the whole job."""
    assessment = context.source.assessment
    wording = _wording(spec, assessment.verdict)
    failing = [view.name for view in context.systems if view.result.verdict is Verdict.FAIL]
    names = {
        **context.names,
        "systems": ", ".join(view.name for view in context.systems),
        "failing": ", ".join(failing),
        "failing_count": str(len(failing)),
        "reason": assessment.reason,
    }
    if len(context.systems) == 1:
        names |= _system_names(context, context.systems[0])
    is_final = Situation.PASSES_NOT_FINAL not in context.situations
    sign = VERDICT_SIGNS[assessment.verdict] if is_final else Sign.WARNING
    text = fill_text(wording.text, names)
    return [Banner(sign, fill(wording.word, names), (text,) if text else (), large=True)]


def system_lines(context: Context, spec: SystemLinesSpec) -> list[Block]:
    """Build one line for each system."""
    lines: list[SignedLine] = []
    for view in context.systems:
        wording = _wording(spec, view.result.verdict)
        names = {**context.names, **_system_names(context, view)}
        sign = VERDICT_SIGNS[view.result.verdict]
        lines.append(SignedLine(sign, fill(wording.word, names), fill_text(wording.text, names)))
    return [SignedLines(tuple(lines))] if lines else []


def verdict_cards(context: Context, spec: VerdictsSpec) -> list[Block]:
    """Build a card for each system and limit; a panel where there is no system."""
    if not context.systems:
        names = {**context.names, "reason": context.source.assessment.reason}
        word, text = fill(spec.undecided.word, names), fill_text("{reason}", names)
        return [Banner(VERDICT_SIGNS[Verdict.NONE], word, (text,))]
    blocks: list[Block] = []
    for view in context.systems:
        outcomes = view.result.outcomes or (_without_outcome(view),)
        blocks += [_card(context, spec, view, outcome) for outcome in outcomes]
    return blocks


def limits(context: Context, spec: LimitsSpec) -> list[Block]:
    """Build rule, arithmetic, clause, edition and status of each limit."""
    blocks: list[Block] = []
    for view in context.systems:
        if not view.result.outcomes:
            wording = spec.undecided if context.job.compliance.limits else spec.none_chosen
            names = {**context.names, "system": view.name, "reason": view.result.reason}
            text = fill_text(wording, names)
            blocks.append(Paragraph(text))
        for outcome in view.result.outcomes:
            names = {**context.names, **_outcome_names(context, view, outcome)}
            blocks.append(Heading(fill(spec.title, names), 3))
            blocks += _conditions(context, spec, view, outcome)
            if outcome.lines:
                blocks.append(Lines(outcome.lines))
            if outcome.reason:
                blocks.append(Paragraph(fill_text("{reason}", names)))
            warning = _status_warning(context, outcome)
            if warning:
                blocks.append(Banner(Sign.WARNING, warning))
            about = [fill_text(line, names) for line in spec.about if has_all(line, names)]
            if about:
                blocks.append(Paragraph(_on_lines(about), TextRole.QUIET))
    return blocks


def _conditions(
    context: Context, spec: LimitsSpec, view: SystemView, outcome: LimitOutcome
) -> list[Block]:
    """Build why this row binds: each condition, or each row considered, with the job's facts."""
    words = {True: spec.fits, False: spec.fits_not, None: spec.fits_open}
    lines = explain_in(context.job, view.result.system, outcome)
    blocks: list[Block] = []
    for part, opening in (
        (LinePart.CONDITION, spec.conditions),
        (LinePart.CONSIDERED, spec.considered),
    ):
        told = [
            f"{printable(line.text)} ({words[line.holds]})" for line in lines if line.part is part
        ]
        if told:
            blocks.append(
                Paragraph((*fill_text(opening, context.names), TextSpan("; ".join(told))))
            )
    against = [point.why for point in unfit(context.job, outcome)]
    for wording, left in (
        (spec.misfit, against),
        (spec.unsettled, unsettled(context.job, outcome)),
    ):
        if wording and left:
            texts = "; ".join(printable(text) for text in left)
            blocks.append(Paragraph((*fill_text(wording, context.names), TextSpan(texts))))
    return blocks


def _exceptions(context: Context, view: SystemView, outcome: LimitOutcome) -> str:
    lines = explain_in(context.job, view.result.system, outcome)
    return " ".join(printable(line.text) for line in lines if line.part is LinePart.EXCEPTIONS)


def _with_sureness(
    spec: VerdictsSpec, text: Text, outcome: LimitOutcome, names: dict[str, str]
) -> Text:
    """Return `text` with how sure the comparison is, which changes no verdict."""
    told: list[Text] = []
    if outcome.remark:
        told.append((TextSpan(printable(outcome.remark), strong=True),))
    elif has_all(spec.sure, names):
        told.append(fill_text(spec.sure, names))
    if told and spec.alone and has_all(spec.alone, names):
        told.append(fill_text(spec.alone, names))
    if spec.one_reading and names["readings"] == "1":
        told.append(fill_text(spec.one_reading, names))
    told += [fill_text(line, names) for line in spec.misfits if has_all(line, names)]
    if spec.unsettled and names["aspects"]:
        told.append(fill_text(spec.unsettled, names))
    spans = [span for part in told for span in (TextSpan(" "), *part)][1:]
    return _on_lines([text, tuple(spans)]) if spans else text


def _with_remarks(view: SystemView, text: Text) -> Text:
    """Return `text` with what must be known beside the verdict."""
    told: list[Text] = [
        (TextSpan(printable(remark), strong=True),) for remark in view.result.remarks
    ]
    return _on_lines([text, *told]) if told else text


def _flow_alone(context: Context, outcome: LimitOutcome) -> dict[str, str]:
    """Return how many readings there are, what counts beside the flow, and how sure that is alone.

    The latter two are empty where nothing else counts, or adds nothing that shows.
    """
    figure = _BESIDE_THE_FLOW.get(outcome.uncertainty_of or BudgetOf.FLOW, "")
    result = context.source.assessment.test(outcome.test)
    readings = len(result.readings) if result else 0
    names = {"figure": "", "flow_uncertainty": "", "readings": str(readings)}
    if figure and outcome.flow_uncertainty is not None:
        alone = outcome.model_copy(update={"uncertainty": outcome.flow_uncertainty})
        shown = exact_figures(context.formatter, alone).uncertainty
        if shown != exact_figures(context.formatter, outcome).uncertainty:
            names |= {"figure": _(figure), "flow_uncertainty": shown}
    return names


def _on_lines(texts: list[Text]) -> Text:
    """Return `texts` as one, each on a line of its own."""
    spans = [span for text in texts for span in (*text, TextSpan("\n"))]
    return tuple(spans[:-1])


def _card(
    context: Context, spec: VerdictsSpec, view: SystemView, outcome: LimitOutcome
) -> VerdictCard:
    wording = spec.waived if outcome.is_waived else _wording(spec, outcome.verdict)
    names = {**context.names, **_outcome_names(context, view, outcome)}
    names |= _flow_alone(context, outcome)
    against = unfit(context.job, outcome)
    # Where it is not for the job at all, nothing of it is left to settle.
    aspects = () if against else unsettled_aspects(context.job, outcome)
    names["aspects"] = ", ".join(in_sentence(printable(aspect)) for aspect in aspects)
    for point in against:
        names[f"{point.aspect}_misfit"] = printable(point.why)
    figures = exact_figures(context.formatter, outcome)
    return VerdictCard(
        sign=VERDICT_SIGNS[outcome.verdict],
        word=fill(wording.word, names),
        title=fill(spec.title, names),
        figures=(
            Figure(spec.measured, figures.measured),
            Figure(spec.required if figures.more_is_better else spec.limit, figures.limit),
            Figure(_margin_label(spec, figures), figures.margin),
        ),
        text=_with_remarks(
            view, _with_sureness(spec, fill_text(wording.text, names), outcome, names)
        ),
        warning=_status_warning(context, outcome),
    )


def _margin_label(spec: VerdictsSpec, figures: ExactFigures) -> str:
    if figures.is_met:
        return spec.to_spare
    return spec.short if figures.more_is_better else spec.over


def _without_outcome(view: SystemView) -> LimitOutcome:
    """Return what stands for a system that no limit was held against."""
    return LimitOutcome(limit="", edition="", body="", reason=view.result.reason)


def _status_warning(context: Context, outcome: LimitOutcome) -> str:
    if outcome.status is None:
        return ""
    return context.template.words.status_warning.get(outcome.status, "")


def _row_title(context: Context, outcome: LimitOutcome) -> str:
    for limit in context.job.compliance.limits:
        row = limit.edition.row(outcome.row) if limit.key == outcome.limit else None
        if row is not None:
            return _(row.title)
    return ""


def _status(context: Context, status: Verification | None) -> str:
    return context.template.words.status.get(status, "") if status is not None else ""


def _outcome_names(context: Context, view: SystemView, outcome: LimitOutcome) -> dict[str, str]:
    figures = exact_figures(context.formatter, outcome)
    return {
        **_system_names(context, view),
        "edition": outcome.edition,
        "body": outcome.body,
        "clause": outcome.clause,
        "row": _row_title(context, outcome),
        "rule": outcome.rule_text,
        "source": outcome.source,
        "note": outcome.note,
        "reason": outcome.reason or outcome.waiver or view.result.reason,
        "status": _status(context, outcome.status),
        "waiver": outcome.waiver,
        "exceptions": _exceptions(context, view, outcome),
        "uncertainty": figures.uncertainty,
        "chance": "" if outcome.probability is None else chance_words(outcome.probability),
        "measured_exact": figures.measured,
        "limit_exact": figures.limit,
        "margin_exact": figures.margin,
    }


def _system_names(context: Context, view: SystemView) -> dict[str, str]:
    names = {
        "system": view.name,
        "serves": view.system.serves,
        "reason": view.result.reason,
    }
    figures = plain_figures(context.formatter, view)
    if figures is not None:
        margin = None if figures.limit is None else abs(figures.limit - figures.measured)
        names |= {
            "measured": figures.shown(context.formatter, figures.measured),
            "limit": figures.shown(context.formatter, figures.limit),
            "margin": figures.shown(context.formatter, margin),
            "unit": context.formatter.label(figures.unit),
        }
    outcome = view.deciding
    if outcome is not None:
        names |= {"edition": outcome.edition, "clause": outcome.clause, "rule": outcome.rule_text}
    return names


def _wording(spec: AnswerSpec | SystemLinesSpec | VerdictsSpec, verdict: Verdict) -> VerdictWording:
    return {Verdict.PASS: spec.passes, Verdict.FAIL: spec.fails, Verdict.NONE: spec.undecided}[
        verdict
    ]
