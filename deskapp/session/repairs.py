"""Repairs in words: the ledger of quick readings, and retests beside the tests they repeat."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.choices import Stage
from deskapp.domain.fields import label_of
from deskapp.i18n import _, in_sentence, labeled
from deskapp.session import rows
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.domain.repair_result import LedgerRow, RepairLedger, RetestResult
    from deskapp.session.editor import Editor
    from deskapp.units.display import Formatter


@dataclass(frozen=True, slots=True)
class LedgerWords:
    """One ledger: rows of reading, leaks closed before it, flow, gain and what to make of it.

    `left` says what is left above the limit, `could_close` which open leaks could close it;
    `test` is the key of the test it begins with.
    """

    test: str
    title: str
    rows: tuple[tuple[str, ...], ...]
    left: str
    is_met: bool | None
    could_close: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RetestWords:
    """A retest beside the test it repeats: flows m3/s for drawing, and all of it in words."""

    before: float
    now: float
    limit: float | None
    before_text: str
    now_text: str
    limit_text: str
    change: str
    differences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RetestOffer:
    """A system that can be retested: the key of its latest test, and that test beside the one
    it repeats, if it repeats one. `name` is empty where there is only one system."""

    test: str
    name: str
    found: RetestWords | None


def retest_offers(editor: Editor) -> tuple[RetestOffer, ...]:
    """Return the systems with a result, each with its latest retest in words."""
    job = editor.job
    return tuple(
        RetestOffer(key, system.name if len(job.systems) > 1 else "", retest_words(editor, key))
        for system in job.systems
        if (key := repeatable_test(editor, system.key))
    )


def retest(editor: Editor, test_key: str) -> str:
    """Add a test that repeats the one with this key, set up alike, and return its path.

    Readings and baselines stay empty, and the earlier test stays as it is. Raises KeyError if
    there is no such test.
    """
    from deskapp.domain import paths
    from deskapp.domain.trial import LeakageTest, Reading

    job = editor.job
    first = job.test(test_key)
    if first is None:
        raise KeyError(f"no test has the key {test_key}")
    setup = first.setup
    if setup.stage is Stage.BEFORE_REPAIR:
        setup = setup.model_copy(update={"stage": Stage.AFTER_REPAIR})
    bare = rows.new_row(job, "tests")
    again = LeakageTest(
        key=bare.key,
        system=first.system,
        label=_("Retest"),
        retest_of=first.key,
        setup=setup,
        readings=(Reading(),),
    )
    position = len(job.tests)
    before = f"tests.{job.tests.index(first)}"

    def words() -> str:
        name = label_of(before)
        return _("add a retest of {test}").format(test=in_sentence(name))

    editor.take(paths.insert(job, "tests", position, again), words)
    return f"tests.{position}"


def repeatable_test(editor: Editor, system_key: str) -> str:
    """Return the key of the latest test of a system that gave a result; empty if none did."""
    assessment = editor.assessment
    for test in reversed(editor.job.tests_of(system_key)):
        result = assessment.test(test.key)
        if result is not None and result.flow is not None:
            return test.key
    return ""


def name_of_test(job: Job, key: str) -> str:
    """Return what a test is called, after its system where there are several."""
    position = next((at for at, test in enumerate(job.tests) if test.key == key), None)
    if position is None:
        return ""
    test = job.tests[position]
    label = test.label or label_of(f"tests.{position}")
    system = job.system(test.system)
    return labeled(system.name, label) if system and len(job.systems) > 1 else label


def ledger_words(editor: Editor) -> tuple[LedgerWords, ...]:
    """Return the ledgers of the job in words."""
    return tuple(_ledger(editor, one) for one in editor.assessment.ledgers)


def leak_numbers(job: Job, keys: tuple[str, ...]) -> str:
    """Return the numbers of leaks, ``1, 3``; a dash for none."""
    numbers = sorted(number for key in keys if (number := job.leak_number(key)) is not None)
    return ", ".join(str(number) for number in numbers) or NO_VALUE


def gain_words(row: LedgerRow) -> str:
    """Return what to make of one gain."""
    if row.gain is None:
        return _("no flow yet")
    if not row.told_apart:
        return _("not told apart from zero")
    return _("gained") if row.gain > 0.0 else _("leaks more")


def _ledger(editor: Editor, ledger: RepairLedger) -> LedgerWords:
    show = editor.preferences.formatter.show
    name = _("Test")
    if ledger.start_on is not None:
        name = f"{name}, {editor.preferences.formatter.day(ledger.start_on)}"
    start = (name, NO_VALUE, show(Kind.FLOW, ledger.start), NO_VALUE, "")
    lines = [start, *(_line(editor, row) for row in ledger.rows)]
    if len(ledger.rows) > 1:
        flow = show(Kind.FLOW, ledger.last)
        total = _plus_minus(editor.preferences.formatter, ledger.gain, ledger.uncertainty)
        told = "" if ledger.told_apart else _("not told apart from zero")
        lines.append((_("In all"), NO_VALUE, flow, total, told))
    is_met = None if ledger.excess is None else ledger.excess <= 0.0
    return LedgerWords(
        test=ledger.test,
        title=name_of_test(editor.job, ledger.test),
        rows=tuple(lines),
        left=_left(editor, ledger),
        is_met=is_met,
        could_close=() if is_met else _could_close(editor, ledger.system),
    )


def _line(editor: Editor, row: LedgerRow) -> tuple[str, ...]:
    formatter = editor.preferences.formatter
    day = "" if row.read_on is None else formatter.day(row.read_on)
    told = ", ".join(part for part in (day, row.read_time) if part)
    name = told or label_of(f"rereadings.{row.index}")
    gain = NO_VALUE
    if row.gain is not None:
        gain = _plus_minus(formatter, row.gain, row.uncertainty or 0.0)
    leaks = leak_numbers(editor.job, row.leaks)
    return name, leaks, formatter.show_optional(Kind.FLOW, row.flow), gain, gain_words(row)


def _plus_minus(formatter: Formatter, value: float, uncertainty: float) -> str:
    unit = formatter.label(formatter.unit_for(Kind.FLOW))
    number = formatter.show(Kind.FLOW, value).removesuffix(unit).rstrip()
    return f"{number} ± {formatter.show(Kind.FLOW, uncertainty)}"


def _left(editor: Editor, ledger: RepairLedger) -> str:
    if ledger.excess is None or ledger.limit_flow is None:
        return _("No limit is chosen that this measurement could be held against.")
    show = editor.preferences.formatter.show
    names = {
        "amount": show(Kind.FLOW, abs(ledger.excess)),
        "limit": show(Kind.FLOW, ledger.limit_flow),
    }
    if ledger.excess > 0.0:
        return _("Still {amount} above the limit of {limit}.").format(**names)
    return _(
        "The last quick reading is {amount} under the limit of {limit}. Only a full retest counts."
    ).format(**names)


def _could_close(editor: Editor, system_key: str) -> tuple[str, ...]:
    from deskapp.session.leak_words import leak_list

    keys = {
        editor.job.leak_number(leak.key)
        for leak in editor.job.leaks_found
        if leak.system in ("", system_key)
    }
    return tuple(
        f"{leak.number}. {leak.place}. {leak.severity}".strip()
        for leak in leak_list(editor)
        if leak.is_open and leak.number in keys
    )


def retest_words(editor: Editor, test_key: str) -> RetestWords | None:
    """Return a test in words beside the one it repeats; None if it repeats none."""
    one = editor.assessment.retest(test_key)
    if one is None:
        return None
    formatter = editor.preferences.formatter
    return RetestWords(
        before=one.before,
        now=one.now,
        limit=one.limit_flow,
        before_text=formatter.show(Kind.FLOW, one.before),
        now_text=formatter.show(Kind.FLOW, one.now),
        limit_text=formatter.show_optional(Kind.FLOW, one.limit_flow),
        change=_change(formatter, one),
        differences=tuple(found.label for found in one.differences if found.breaks),
    )


def _change(formatter: Formatter, one: RetestResult) -> str:
    """Return by how much a retest leaks less or more, with the uncertainty of the difference."""
    names = {
        "amount": _plus_minus(formatter, abs(one.reduction), one.uncertainty),
        "share": formatter.show(Kind.FRACTION, abs(one.share or 0.0)),
        "spread": formatter.show(Kind.FRACTION, one.share_uncertainty or 0.0),
    }
    if not one.told_apart:
        return _("A difference of {amount} (k = 2), not told apart from none.").format(**names)
    if one.reduction > 0.0:
        words = _("{amount} less than before (k = 2): {share} ± {spread} of the first result.")
    else:
        words = _("{amount} more than before (k = 2): {share} ± {spread} of the first result.")
    return words.format(**names)
