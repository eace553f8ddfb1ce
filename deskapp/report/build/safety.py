"""What could hurt someone, who went on in spite of it, and how the house was left."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from deskapp.domain import leaving
from deskapp.domain.cautions import cautions_for
from deskapp.domain.checks_safety import MEASURED_TWICE
from deskapp.domain.choices import YesNo
from deskapp.domain.fields import field_at
from deskapp.domain.safety import Appliance
from deskapp.domain.stops import acknowledgment_of, lasting_stops, stops_for
from deskapp.domain.vocabulary import CautionLevel, Operator
from deskapp.i18n import _
from deskapp.report.blocks import (
    Align,
    Banner,
    Column,
    Notice,
    Notices,
    Paragraph,
    Sign,
    SignedLine,
    SignedLines,
    Table,
    TextRole,
    TextSpan,
)
from deskapp.report.build.field_text import choice_label, entry
from deskapp.report.build.missing import missing_paths
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from deskapp.domain.arrival import ArrivalItem
    from deskapp.domain.limit import Verification
    from deskapp.domain.safety import Acknowledgment
    from deskapp.domain.vocabulary import Caution, Condition, Stop
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_safety import (
        AcknowledgedSpec,
        AppliancesSpec,
        BeforeAfterSpec,
        LeftAsFoundSpec,
        StillChangedSpec,
        StopsSpec,
    )

    _Told: TypeAlias = tuple[Stop, Acknowledgment | None, str]

_LEVELS = (Operator.AT_LEAST, Operator.ABOVE)


def appliances(context: Context, spec: AppliancesSpec) -> list[Block]:
    """Build the appliances as a table."""
    heads = spec.columns
    columns = (
        Column(heads.number, weight=0.4),
        Column(heads.appliance, weight=1.6),
        Column(heads.fuel, weight=1.2),
        Column(heads.vent, weight=2.2),
        Column(heads.place, weight=1.4),
        Column(heads.own_air, weight=1.0),
    )
    rows = tuple(
        (
            str(number),
            *(
                choice_label(answer) or context.template.words.not_recorded
                for answer in (row.kind, row.fuel, row.vent, row.place, row.own_air)
            ),
        )
        for number, row in enumerate(context.job.appliances, 1)
        if row != Appliance(key=row.key)
    )
    return [Table(columns, rows)] if rows else []


def stops(context: Context, spec: StopsSpec) -> list[Block]:
    """Build one panel of the stops the answers call for: those left open, then those gone past.

    One gone past that goes on being a danger to people is told on every paper. Where the panel of
    dangers has told of all there is, the rest stands in that panel (`below_dangers`).
    """
    told = _told(context, spec)
    texts = _stop_texts(context, spec, told)
    if not told or _belongs_to_dangers(context, told, texts):
        return []
    is_open = told[0][1] is None
    return [
        Banner(
            Sign.DANGER if is_open and texts else Sign.WARNING,
            fill(spec.word, context.names),
            (*texts, fill_text(spec.aside, context.names)),
        )
    ]


def below_dangers(context: Context) -> tuple[tuple[TextSpan, ...], ...]:
    """Return the last line of the panel of dangers: who went past them, and what follows it.

    None where no stop is called for, or where stops have a panel of their own.
    """
    spec = next((one for one in context.template.block if one.kind == "stops" and one.shown), None)
    if spec is None:
        return ()
    told = _told(context, spec)
    texts = _stop_texts(context, spec, told)
    if not told or not _belongs_to_dangers(context, told, texts):
        return ()
    spans: list[TextSpan] = []
    for text in (*texts, fill_text(spec.aside, context.names)):
        spans += (TextSpan(" "), *text) if spans else text
    return (tuple(spans),)


def _belongs_to_dangers(
    context: Context, told: list[_Told], texts: tuple[tuple[TextSpan, ...], ...]
) -> bool:
    """Say whether the panel of dangers tells of all stops, or of what was gone past."""
    is_open = bool(told) and told[0][1] is None
    return bool(_fields_of_dangers(context)) and not (is_open and texts)


def _told(context: Context, spec: StopsSpec) -> list[_Told]:
    """Return the stops to tell of, open ones first, each with who went past it and its wording."""
    job, source = context.job, context.source
    lasting = lasting_stops(job, source.stops, source.cautions, context.template.audience)
    last = {stop.id for stop, _record in lasting}
    told: list[_Told] = []
    for stop in stops_for(job, source.stops):
        record = acknowledgment_of(job, stop)
        wording = spec.open_stop if record is None else spec.went_on
        if record is not None and stop.id in last:
            wording = spec.lasting or spec.went_on
        if wording or stop.id in last:
            told.append((stop, record, wording))
    return sorted(told, key=lambda one: one[1] is not None)


def _stop_texts(
    context: Context, spec: StopsSpec, told: list[_Told]
) -> tuple[tuple[TextSpan, ...], ...]:
    """Return what is said of each stop, once; not again what the panel of dangers tells."""
    above = _fields_of_dangers(context)
    texts = (
        fill_text(
            wording,
            {
                **context.names,
                "stop": _(stop.text),
                "todo": _(stop.todo),
                "name": record.name if record else "",
                "when": context.formatter.moment(record.at) if record else "",
            },
        )
        for stop, record, wording in told
        if wording and (wording == spec.lasting or above.isdisjoint(stop.when.fields))
    )
    return tuple(dict.fromkeys(texts))


def _fields_of_dangers(context: Context) -> frozenset[str]:
    """Return the answers the panel of dangers of this report speaks of, if it has one."""
    if not any(spec.kind == "dangers" and spec.shown for spec in context.template.block):
        return frozenset()
    return frozenset(
        field
        for caution in cautions_for(context.job, context.source.cautions, context.template.audience)
        if caution.level is CautionLevel.DANGER
        for field in caution.when.fields
    )


def acknowledged(context: Context, spec: AcknowledgedSpec) -> list[Block]:
    """Build the stops that were acknowledged, each with the words it was read in."""
    items = tuple(
        Notice(
            sign=Sign.WARNING,
            word=fill(spec.word, context.names),
            text=fill_text(spec.text, {**context.names, **_names_of(context, record)}),
            source=_source_of(context, spec, record),
        )
        for record in context.job.acknowledgments
    )
    return [Notices(items)] if items else []


def before_after(context: Context, spec: BeforeAfterSpec) -> list[Block]:
    """Build what was measured before and after the work, beside the levels of the cautions.

    An empty entry is told as not recorded where it is counted as missing, and nowhere else.
    """
    heads = spec.columns
    rows: list[tuple[str, ...]] = []
    needed = missing_paths(context)
    for path in MEASURED_TWICE:
        both = (path, f"{path}_after")
        if any(entry(context, each) for each in both):
            told = (_told_or_not(context, each, needed) for each in both)
            levels = _zone(context, spec) if "zone" in path else _levels(context, spec, path)
            rows.append((_(field_at(path).label), *told, levels))
    columns = (
        Column(heads.what, weight=1.8),
        Column(heads.before, Align.RIGHT, weight=0.7),
        Column(heads.after, Align.RIGHT, weight=0.7),
        Column(heads.compared, weight=4.4),
    )
    return [Table(columns, tuple(rows))] if rows else []


def _told_or_not(context: Context, path: str, needed: tuple[str, ...]) -> str:
    nothing = context.template.words.not_recorded if path in needed else NO_VALUE
    return entry(context, path) or nothing


def left_as_found(context: Context, spec: LeftAsFoundSpec) -> list[Block]:
    """Build what was changed and how it was left; what was not changed in one line."""
    items = leaving.listed(context.job)
    if not items:
        return []
    heads = spec.columns
    columns = (
        Column(heads.what, weight=1.7),
        Column(heads.was, weight=1.5),
        Column(heads.seals, weight=0.9),
        Column(heads.state, weight=1.8),
    )
    rows = tuple(
        (_what(item), printable(item.was), _seals(context, spec, item), _state(context, spec, item))
        for item in items
        if item.is_changed and not _is_only_named(spec, item)
    )
    blocks: list[Block] = [Table(columns, rows)] if rows else []
    named = [item for item in items if _is_only_named(spec, item)]
    unanswered = [item for item in items if item.changed is None and not item.is_changed]
    unchanged = [item for item in items if item.changed is not None and not item.is_changed]
    for wording, some in (
        (spec.restored, named),
        (spec.unchanged, unchanged),
        (spec.unanswered, unanswered),
    ):
        if some:
            names = {**context.names, "things": "; ".join(_what(item) for item in some)}
            blocks.append(Paragraph(fill_text(wording, names), TextRole.QUIET))
    record = context.job.leaving
    when = context.formatter.moment(record.closed_at)
    names = {**context.names, "name": record.closed_by, "when": when}
    is_closed = leaving.is_closed(context.job)
    blocks.append(Paragraph(fill_text(spec.closed if is_closed else spec.not_closed, names)))
    return blocks


def still_changed(context: Context, spec: StillChangedSpec) -> list[Block]:
    """Build what is not as it was found, with the reason given."""
    lines = tuple(
        SignedLine(
            Sign.WARNING,
            fill(spec.word, context.names),
            fill_text(
                _how_left(item, spec),
                {**context.names, "what": _what(item), "why": item.explained},
            ),
        )
        for item in context.job.arrival
        if item.is_changed and not item.is_put_back
    )
    return [SignedLines(lines)] if lines else []


def _how_left(item: ArrivalItem, spec: StillChangedSpec) -> str:
    """Return the wording for a thing not as it was found; an open answer is no observation."""
    if item.explained:
        return spec.text
    is_answered = item.undone is YesNo.NO or (
        item.undone is YesNo.YES and item.seals_off is not None
    )
    return spec.unexplained if is_answered or not spec.unrecorded else spec.unrecorded


def _names_of(context: Context, record: Acknowledgment) -> dict[str, str]:
    return {
        "stop": record.text,
        "answer": record.answer,
        "name": record.name,
        "reason": record.reason,
        "when": context.formatter.moment(record.at),
    }


def _source_of(context: Context, spec: AcknowledgedSpec, record: Acknowledgment) -> str:
    stop = next((one for one in context.source.stops if one.id == record.stop), None)
    if stop is None:
        return ""
    return fill(spec.source, {**context.names, "source": stop.source[:1].upper() + stop.source[1:]})


def _zone(context: Context, spec: BeforeAfterSpec) -> str:
    limit = entry(context, "safety.zone_limit")
    return fill(spec.zone_limit, {**context.names, "levels": limit}) if limit else NO_VALUE


def _levels(context: Context, spec: BeforeAfterSpec, path: str) -> str:
    """Return the levels at which cautions about the field at `path` begin, and how well known."""
    by_status: dict[Verification, set[float]] = {}
    unit = ""
    for caution, condition in _conditions(context, path):
        if float(condition.value) > 0.0:
            by_status.setdefault(caution.status, set()).add(float(condition.value))
            unit = context.formatter.label(condition.unit)
    told = (
        fill(
            spec.begins,
            {
                **context.names,
                "levels": _all_of(_whole(context, numbers), unit),
                "status": context.template.words.status[status],
            },
        )
        for status, numbers in by_status.items()
    )
    return "\n".join(told) or NO_VALUE


def _all_of(numbers: list[str], unit: str) -> str:
    """Return levels in one unit: ``9 and 70 ppm``, ``9, 35 and 70 ppm``."""
    *first, last = (f"{number}\N{NO-BREAK SPACE}{unit}" for number in numbers)
    if not first:
        return last
    bare = ", ".join(one.removesuffix(unit).rstrip() for one in first)
    return _("{levels} and {last}").format(levels=bare, last=last)


def _whole(context: Context, numbers: Iterable[float]) -> list[str]:
    return [context.formatter.number(number, 0) for number in sorted(numbers)]


def _conditions(context: Context, path: str) -> Iterator[tuple[Caution, Condition]]:
    for caution in context.source.cautions:
        for condition in caution.when.all:
            if condition.field == path and condition.operator in _LEVELS:
                yield caution, condition


def _what(item: ArrivalItem) -> str:
    return printable(_(item.what)) or _("Something without a name")


def _is_only_named(spec: LeftAsFoundSpec, item: ArrivalItem) -> bool:
    return spec.short and item.is_changed and item.is_put_back and item.seals_on is None


def _seals(context: Context, spec: LeftAsFoundSpec, item: ArrivalItem) -> str:
    if item.seals_on is None and item.seals_off is None:
        return ""
    on, off = (each.typed if each else "0" for each in (item.seals_on, item.seals_off))
    return fill(spec.seals, {**context.names, "on": on, "off": off})


def _state(context: Context, spec: LeftAsFoundSpec, item: ArrivalItem) -> str:
    if item.is_put_back:
        return fill(spec.put_back, context.names)
    wording = spec.explained if item.explained.strip() else spec.still_open
    why = item.explained.strip() or leaving.why_unsettled(item)
    return fill(wording, {**context.names, "why": why})
