"""What a tester does about safety: acknowledge stops, list changes on arrival, close that list."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain import leaving, paths
from deskapp.domain.cautions import cautions_for
from deskapp.domain.choices import YesNo
from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import Measured
from deskapp.domain.safety import Acknowledgment
from deskapp.domain.stops import acknowledgment_of, answer_words, cause_of, stops_for
from deskapp.domain.vocabulary import CautionLevel, CautionTopic
from deskapp.i18n import _
from deskapp.session import rows
from deskapp.session.typed import storable

if TYPE_CHECKING:
    from collections.abc import Iterator
    from datetime import datetime

    from deskapp.domain.arrival import ArrivalItem
    from deskapp.domain.job import Job
    from deskapp.domain.vocabulary import ArrivalThing, Caution, Stop
    from deskapp.session.editor import Editor


FEWEST_WORDS, FEWEST_LETTERS = 3, 12
"""The least a reason has: so many words, or so many characters. House rule; no source."""


@dataclass(frozen=True, slots=True)
class StopState:
    """A stop the job calls for: the answer that does, and who acknowledged it, if anybody did."""

    id: str
    text: str
    todo: str
    answer: str
    source: str
    acknowledged: str


def stop_states(editor: Editor) -> tuple[StopState, ...]:
    """Return the stops the open job calls for, those nobody has acknowledged first."""
    states = (_state(editor, stop) for stop in stops_for(editor.job, editor.shelf.stops))
    return tuple(sorted(states, key=lambda state: bool(state.acknowledged)))


def is_held(editor: Editor) -> bool:
    """Say whether readings have to wait for somebody to acknowledge a stop."""
    return any(not state.acknowledged for state in stop_states(editor))


def acknowledge(
    editor: Editor, stop_id: str, name: str, reason: str, now: datetime
) -> tuple[Finding, ...]:
    """Record who goes on in spite of a stop, and why; one step to undo.

    Returns what keeps it from being recorded: a name or a reason that is missing, or a reason that
    says nothing.
    """
    missing = (*_missing("name", name), *(_missing("reason", reason) or _too_short(reason)))
    job = editor.job
    stop = next((one for one in stops_for(job, editor.shelf.stops) if one.id == stop_id), None)
    if missing or stop is None:
        return missing
    record = Acknowledgment(
        stop=stop.id,
        cause=cause_of(job, stop),
        text=f"{_(stop.text)} {_(stop.todo)}",
        answer=answer_words(job, stop),
        name=_tidy(name),
        reason=_tidy(reason),
        at=now.isoformat(timespec="minutes"),
    )
    others = tuple(one for one in job.acknowledgments if one.stop != stop.id)
    acknowledged = job.model_copy(update={"acknowledgments": (*others, record)})
    editor.take(acknowledged, lambda: _("acknowledge a stop"))
    return ()


def take_back(editor: Editor, stop_id: str) -> None:
    """Take an acknowledgment back; the stop holds again."""
    kept = tuple(one for one in editor.job.acknowledgments if one.stop != stop_id)
    job = editor.job.model_copy(update={"acknowledgments": kept})
    editor.take(job, lambda: _("take an acknowledgment back"))


def start_list(editor: Editor) -> None:
    """Put everything testers usually change on the list, as one step; what is there stays.

    What the tests tell of as changed is listed so, with the number of their seals.
    """
    job = editor.job
    there = {item.item for item in job.arrival}
    for thing in editor.shelf.arrival:
        if thing.id not in there:
            known = {"item": thing.id, "what": _(thing.label), **_told_by_tests(job, thing)}
            row = rows.new_row(job, "arrival").model_copy(update=known)
            job = paths.insert(job, "arrival", len(job.arrival), row)
    editor.take(job, lambda: _("list what may be changed"))


def _told_by_tests(job: Job, thing: ArrivalThing) -> dict[str, object]:
    number = leaving.changed_for_tests(job, thing)
    if not number:
        return {}
    if not leaving.is_counted(thing):
        return {"changed": YesNo.YES}
    return {
        "changed": YesNo.YES,
        "seals_on": Measured(si=number, unit="1", typed=f"{number:.0f}"),
    }


def changed_unlisted(editor: Editor) -> str:
    """Return what the tests tell of as changed while nothing is listed; empty otherwise."""
    if leaving.listed(editor.job):
        return ""
    return "; ".join(leaving.told_by_tests(editor.job, editor.shelf.arrival))


def rest_unchanged(editor: Editor) -> None:
    """Answer that all rows of the list without an answer were not changed, as one step."""
    items = tuple(
        item.model_copy(update={"changed": YesNo.NO})
        if item.changed is None and not item.is_changed
        else item
        for item in editor.job.arrival
    )
    job = editor.job.model_copy(update={"arrival": items})
    editor.take(job, lambda: _("the rest was not changed"))


def close_list(editor: Editor, name: str, now: datetime) -> tuple[Finding, ...]:
    """Close the list with name, day and time; return what keeps it open, the rows one by one."""
    job = editor.job
    problems = [*_missing("name", name)]
    if not leaving.listed(job):
        problems.append(
            _problem("arrival", _("The list is empty."), _("List what was changed on arrival."))
        )
    problems += [
        _problem(
            f"arrival.{at}.{_open_field(item)}",
            _("{what}: {why}.").format(
                what=item.what or _("Row {n}").format(n=at + 1), why=leaving.why_unsettled(item)
            ),
            _("Put it back, or say why not and who was told."),
        )
        for at, item in leaving.unsettled(job)
        if item.is_changed
    ]
    problems += _unsaid(job)
    problems += leaving.left_sealed(job, editor.shelf.arrival)
    if not problems:
        at = now.isoformat(timespec="minutes")
        editor.take(
            leaving.closed(job, _tidy(name), at), lambda: _("confirm how the house is left")
        )
    return tuple(problems)


def _unsaid(job: Job) -> Iterator[Finding]:
    """Yield, all in one, the rows of which nobody has said whether they were changed."""
    rows_left = [(at, item) for at, item in leaving.unsettled(job) if not item.is_changed]
    if rows_left:
        named = (item.what or _("Row {n}").format(n=at + 1) for at, item in rows_left)
        yield _problem(
            f"arrival.{rows_left[0][0]}.changed",
            _("Not said whether it was changed: {things}.").format(things="; ".join(named)),
            _(
                "Answer on the page “Before you start”; “The rest was not changed” there answers "
                "all that is left."
            ),
        )


def reopen_list(editor: Editor) -> None:
    """Open a closed list again."""
    editor.take(leaving.reopened(editor.job), lambda: _("take the confirmation back"))


def closing_words(editor: Editor) -> str:
    """Return who closed the list and when; empty while it is open."""
    record = editor.job.leaving
    if not leaving.is_closed(editor.job):
        return ""
    return _("Confirmed by {name}, {when}.").format(
        name=record.closed_by, when=editor.preferences.formatter.moment(record.closed_at)
    )


def arrival_title(item: ArrivalItem) -> str:
    """Return what a row is about and how it was found."""
    parts = [item.what, _("was: {was}").format(was=item.was) if item.was else ""]
    if item.seals_on is not None:
        parts.append(_("{n} seals on").format(n=item.seals_on.typed))
    return " · ".join(part for part in parts if part)


def called_for(editor: Editor) -> tuple[Caution, ...]:
    """Return the dangers and warnings the answers of the safety walk call for."""
    urgent = (CautionLevel.DANGER, CautionLevel.WARNING)
    asked = (one for one in editor.shelf.cautions if one.level in urgent and _is_of_the_walk(one))
    return cautions_for(editor.job, asked)


def about_tracers(editor: Editor) -> tuple[Caution, ...]:
    """Return all there is to know about tracer smoke, whether the job calls for it or not."""
    return tuple(one for one in editor.shelf.cautions if one.topic is CautionTopic.TRACER_SMOKE)


def tracers_called_for(editor: Editor) -> tuple[Caution, ...]:
    """Return what the job calls for about tracer smoke."""
    return cautions_for(editor.job, about_tracers(editor))


def source_words(source: str) -> str:
    """Return where words of care come from, which also says how well that is known."""
    return _(source)[:1].upper() + _(source)[1:]


def _state(editor: Editor, stop: Stop) -> StopState:
    record = acknowledgment_of(editor.job, stop)
    words = ""
    if record is not None:
        words = _("Acknowledged by {name}, {when}: {reason}").format(
            name=record.name,
            when=editor.preferences.formatter.moment(record.at),
            reason=record.reason,
        )
    return StopState(
        id=stop.id,
        text=_(stop.text),
        todo=_(stop.todo),
        answer=answer_words(editor.job, stop),
        source=source_words(stop.source),
        acknowledged=words,
    )


def _is_of_the_walk(caution: Caution) -> bool:
    return any(field.startswith(("safety.", "appliances.")) for field in caution.when.fields)


def _open_field(item: ArrivalItem) -> str:
    if item.changed is None and not item.is_changed:
        return "changed"
    return "seals_off" if item.undone is YesNo.YES else "undone"


def _tidy(text: str) -> str:
    """Return `text` on one line, as a file can hold it."""
    return " ".join(storable(text).split())


def _missing(field: str, text: str) -> tuple[Finding, ...]:
    if text.strip():
        return ()
    if field == "name":
        return (
            _problem(field, _("Name: nothing is entered."), _("Type your first and last name.")),
        )
    return (
        _problem(
            field,
            _("Reason: nothing is entered."),
            _("Say in a few words why the test goes on and what was done first."),
        ),
    )


def _too_short(reason: str) -> tuple[Finding, ...]:
    """Return what is wrong with a reason too short to be one; nothing where it has words enough."""
    tidy = _tidy(reason)
    words = [word for word in tidy.split() if any(letter.isalpha() for letter in word)]
    if len(words) >= FEWEST_WORDS or (words and len(tidy) >= FEWEST_LETTERS):
        return ()
    return (
        _problem(
            "reason",
            _("Reason: “{reason}” does not say why the test goes on.").format(reason=tidy),
            _(
                "Use at least {words} words or {letters} characters: what was done first, and who "
                "let you go on. It is printed with your name."
            ).format(words=FEWEST_WORDS, letters=FEWEST_LETTERS),
        ),
    )


def _problem(path: str, what: str, mend: str) -> Finding:
    return Finding(level=Level.CHECK, code="not_recorded", path=path, what=what, mend=mend)
