"""Which needed entries are empty."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.checks import missing
from deskapp.domain.choices import YesNo
from deskapp.domain.fields import label_of
from deskapp.domain.measured import Day, Measured
from deskapp.i18n import N_, _
from deskapp.report.blocks import Banner, Sign, SignedLine, SignedLines
from deskapp.report.build.wording import fill, fill_text

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_compliance import MissingSpec, Needed

_ROWS = {
    "systems": N_("a duct system"),
    "gauges": N_("a gauge"),
    "fans": N_("a fan"),
    "tests": N_("a test"),
    "photos": N_("photographs"),
}


def missing_paths(context: Context) -> tuple[str, ...]:
    """Return the paths of needed entries that are empty or could not be read, in field order."""
    found = dict.fromkeys(missing(context.job))
    for rule in _rules(context):
        for fields in rule.fields:
            found.update((path, None) for path in _empty(context, rule, fields))
    return tuple(found)


def missing_entries(context: Context) -> tuple[str, ...]:
    """Return in words what is needed and not recorded: entries, whole lists, and results."""
    words = [label_of(path) for path in missing_paths(context)]
    words += [
        _(_ROWS[name])
        for rule in _rules(context)
        for name in rule.rows
        if not paths.rows_at(context.job, name)
    ]
    return (*words, *_missing_results(context))


def _rules(context: Context) -> Iterator[Needed]:
    yield from (rule for rule in context.template.needed if context.prints(rule.when, ()))


def _empty(context: Context, rule: Needed, fields: str) -> Iterator[str]:
    """Yield the first of alternative fields in each row where all of them are empty."""
    first, *others = (list(paths.expand(context.job, path)) for path in fields.split("|"))
    for row, (path, value) in enumerate(first):
        if not _concerns(context, rule, path):
            continue
        if _is_empty(value) and all(_is_empty(other[row][1]) for other in others):
            yield path


def _concerns(context: Context, rule: Needed, path: str) -> bool:
    if rule.metric is None or not path.startswith("tests."):
        return True
    return context.job.tests[int(path.split(".")[1])].setup.metric is rule.metric


def missing_block(context: Context, spec: MissingSpec) -> list[Block]:
    """Build the count of what is missing."""
    entries = missing_entries(context)
    if not entries:
        return [_none_missing(context, spec)]
    names = {**context.names, "count": str(len(entries)), "entries": "; ".join(entries)}
    word = fill(spec.one if len(entries) == 1 else spec.several, names)
    return [Banner(Sign.WARNING, word, (fill_text(spec.text, names),))]


def _none_missing(context: Context, spec: MissingSpec) -> SignedLines:
    text = fill_text(spec.none_missing_text, context.names)
    return SignedLines((SignedLine(Sign.PASS, fill(spec.none_missing, context.names), text),))


def _missing_results(context: Context) -> Iterator[str]:
    if context.job.compliance.exemption_claimed is YesNo.YES:
        return
    for view in context.systems:
        latest = view.latest
        if latest is None or latest.result is None or latest.result.flow is None:
            yield _("Leakage measured ({system})").format(system=view.name)
        outcome = view.deciding
        if outcome is None or outcome.limit_value is None:
            yield _("Greatest leakage allowed ({system})").format(system=view.name)


def _is_empty(value: object) -> bool:
    if isinstance(value, Measured):
        return value.si is None
    if isinstance(value, Day):
        return value.value is None
    return value is None or value == ""
