"""The leaks, with photographs or as a table."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.severity import most_pressing_first, ranked
from deskapp.domain.choices import DuctSide, YesNo
from deskapp.domain.measured import day_of
from deskapp.i18n import N_, _, in_sentence
from deskapp.report.blocks import (
    Column,
    LeakEntries,
    LeakEntry,
    Paragraph,
    Sign,
    Table,
)
from deskapp.report.build.field_text import choice_label
from deskapp.report.build.photos import pictures_of
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.leak import Leak
    from deskapp.domain.repair_result import LeakRank
    from deskapp.domain.vocabulary import LeakLocation
    from deskapp.report.blocks import Block, Picture
    from deskapp.report.build.context import Context
    from deskapp.report.template_common import (
        LeaksSpec,
        LeakTableSpec,
        RepairWords,
        SealingColumns,
    )

_SIGNS = {YesNo.YES: Sign.PASS, YesNo.NO: Sign.WARNING, None: Sign.NONE}

_SIDES = {
    DuctSide.SUPPLY: N_("Supply side"),
    DuctSide.RETURN: N_("Return side"),
    DuctSide.EQUIPMENT: N_("Equipment side"),
}


def leak_entries(context: Context, spec: LeaksSpec) -> list[Block]:
    """Build the numbered leaks with their photographs."""
    leaks = context.job.leaks_found
    if not leaks:
        return [Paragraph(fill_text(spec.none_found, context.names))]
    blocks: list[Block] = []
    if spec.intro:
        names = {**context.names, "count": str(len(leaks))}
        blocks.append(Paragraph(fill_text(spec.intro, names)))
    shown = _most_pressing(context, leaks, spec.most)
    entries = tuple(
        LeakEntry(
            number=str(context.job.leak_number(leak.key)),
            title=_title(context, leak),
            details=_details(context, leak),
            sign=_SIGNS[leak.repaired],
            word=fill(_repaired(leak, spec.words), context.names),
            text=_repair(context, leak),
            pictures=_photos(context, leak, spec),
        )
        for leak in shown
    )
    blocks.append(LeakEntries(entries, spec.pages))
    others = [leak for leak in leaks if leak not in shown]
    if others and spec.others:
        still_open = sum(leak.repaired is not YesNo.YES for leak in others)
        names = {**context.names, "count": str(len(others)), "open": str(still_open)}
        blocks.append(Paragraph(fill_text(spec.others, names)))
    return blocks


def _most_pressing(context: Context, leaks: Sequence[Leak], most: int) -> Sequence[Leak]:
    """Return at most so many leaks in the order of their numbers, those not sealed first."""
    if not 0 < most < len(leaks):
        return leaks
    pressing = most_pressing_first(ranked(context.job, context.source.leak_locations))
    place = {rank.key: number for number, rank in enumerate(pressing)}
    first = sorted(leaks, key=lambda leak: (leak.repaired is YesNo.YES, place[leak.key]))[:most]
    return [leak for leak in leaks if leak in first]


def _photos(context: Context, leak: Leak, spec: LeaksSpec) -> tuple[Picture, ...]:
    return pictures_of(context, leak.photos, spec.photo_missing, leak) if spec.photos else ()


def leak_table(context: Context, spec: LeakTableSpec) -> list[Block]:
    """Build the leaks as a table."""
    if not context.job.leaks_found:
        return [Paragraph(fill_text(spec.none_found, context.names))]
    heads = spec.columns
    columns = (
        Column(heads.number, weight=0.4),
        Column(heads.place, weight=3.0),
        *((Column(heads.system, weight=0.9),) if context.tells_systems_apart else ()),
        Column(heads.severity, weight=1.4),
        Column(heads.found_by, weight=1.3),
        Column(heads.repair, weight=2.7),
    )
    ranks = {rank.key: rank for rank in ranked(context.job, context.source.leak_locations)}
    rows = tuple(
        (
            str(context.job.leak_number(leak.key)),
            _place_in_full(context, leak),
            *((_system(context, leak),) if context.tells_systems_apart else ()),
            _severity(context, spec, leak, ranks[leak.key]),
            choice_label(leak.found_by),
            _state_and_repair(context, spec, leak),
        )
        for leak in context.job.leaks_found
    )
    has_sizes = any(leak.size is not None for leak in context.job.leaks_found)
    notes = (spec.size_note if has_sizes else "", spec.sealing_note)
    note = fill(" ".join(one for one in notes if one), context.names)
    table = Table(columns, rows, note)
    return [table, *(_sealing(context, spec.sealing) if spec.sealing else ())]


def _severity(context: Context, spec: LeakTableSpec, leak: Leak, rank: LeakRank) -> str:
    names = {**context.names, "size": choice_label(leak.size), "reason": rank.reason}
    told = (
        choice_label(rank.severity),
        fill(spec.size, names) if leak.size is not None else "",
        fill(spec.given, names) if rank.is_given and rank.reason else "",
    )
    return printable("\n".join(part for part in told if part) or NO_VALUE)


def _state_and_repair(context: Context, spec: LeakTableSpec, leak: Leak) -> str:
    state = fill(_repaired(leak, spec.words), context.names)
    day = day_of(leak.repaired_on)
    if day is not None:
        state = f"{state}, {context.formatter.day(day)}"
    parts = [part for part in (state, _materials(context, leak), leak.repair) if part]
    return printable(". ".join((*(part.rstrip(".") for part in parts[:-1]), parts[-1])))


def _materials(context: Context, leak: Leak) -> str:
    words = {one.id: _(one.label) for one in context.source.materials}
    used = [words.get(key, key) for key in (leak.material, leak.other_material) if key]
    return ", ".join((used[0], *map(in_sentence, used[1:]))) if used else ""


def _sealing(context: Context, heads: SealingColumns) -> list[Block]:
    """Build what rules say about closing the leaks found, each rule once, with its source."""
    told: dict[tuple[str, str], list[str]] = {}
    words = {one.id: one for one in context.source.materials}
    for leak in context.job.leaks_found:
        place = _location(context, leak)
        used = (words.get(leak.material), words.get(leak.other_material))
        rules = [(_(one.rule), _(one.source), one.status) for one in used if one is not None]
        if place is not None and place.status is not None:
            rules.insert(0, (_(place.sealing), _(place.source), place.status))
        number = str(context.job.leak_number(leak.key))
        for rule, source, status in rules:
            if rule:
                said = f"{source[:1].upper()}{source[1:]} ({heads.status[status]})"
                numbers = told.setdefault((rule, said), [])
                if number not in numbers:
                    numbers.append(number)
    if not told:
        return []
    columns = (
        Column(heads.leaks, weight=0.8),
        Column(heads.rule, weight=3.6),
        Column(heads.source, weight=3.2),
    )
    rows = tuple((", ".join(numbers), *map(printable, rule)) for rule, numbers in told.items())
    return [Table(columns, rows)]


def _title(context: Context, leak: Leak) -> str:
    location = _location(context, leak)
    return printable(leak.place or (_(location.label) if location else "") or _("Leak"))


def _place_in_full(context: Context, leak: Leak) -> str:
    location = _location(context, leak)
    label = _(location.label) if location else ""
    parts = [part for part in (leak.place, label) if part]
    return printable("\n".join(dict.fromkeys(parts)) or _("Leak"))


def _details(context: Context, leak: Leak) -> str:
    location = _location(context, leak)
    label = _(location.label) if location and leak.place else ""
    several = len(context.job.systems) > 1
    parts = (
        _system(context, leak) if several else "",
        label,
        _(_SIDES[leak.side]) if leak.side else "",
        choice_label(leak.size),
        _("found {how}").format(how=choice_label(leak.found_by).lower()) if leak.found_by else "",
    )
    return printable(" · ".join(part for part in parts if part))


def _repair(context: Context, leak: Leak) -> str:
    """Return what was done; for an open leak without words, what is usually done."""
    if leak.repair or leak.repaired is YesNo.YES:
        return printable(leak.repair)
    location = _location(context, leak)
    if location is None or not location.repair:
        return ""
    return printable(_("Usual repair: {repair}").format(repair=_(location.repair)))


def _repaired(leak: Leak, words: RepairWords) -> str:
    if leak.repaired is None:
        return words.unanswered
    return words.sealed if leak.repaired is YesNo.YES else words.open


def _system(context: Context, leak: Leak) -> str:
    return next((view.name for view in context.systems if view.system.key == leak.system), "")


def _location(context: Context, leak: Leak) -> LeakLocation | None:
    places = context.source.leak_locations
    return next((place for place in places if place.id == leak.location), None)
