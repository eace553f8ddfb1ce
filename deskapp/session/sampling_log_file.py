"""The log of a sampling plan as text to read and print, and as a table for other programs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator
from typing import TYPE_CHECKING

from deskapp.i18n import N_, _, labeled
from deskapp.session.sampling_desk import SamplingProblem, log

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.domain.sampling import SamplingPlan
    from deskapp.limits.sampling_log import CheckRow, DrawRow
    from deskapp.units.display import Formatter

TEXT, TABLE = ".txt", ".csv"
_COLUMNS = (
    N_("Number"),
    N_("Day"),
    N_("Unit"),
    N_("Kind"),
    N_("Address"),
    N_("Drawn"),
    N_("Feature"),
    N_("Threshold"),
    N_("Measured"),
    N_("Outcome"),
    N_("Checked before"),
    N_("Checked by"),
    N_("Note"),
)


def log_text(plan: SamplingPlan, formatter: Formatter) -> str:
    """Return the log as lines: the rule and how far it is, each draw, each check, the next step."""
    return "\n".join(_lines(plan, formatter)) + "\n"


def _lines(plan: SamplingPlan, formatter: Formatter) -> Iterator[str]:
    found = log(plan)
    for fact in found.facts:
        yield labeled(fact.label, fact.text)
    for row in found.draws:
        yield ""
        yield from _draw_lines(row, formatter)
    if found.checks:
        yield ""
        yield _("Checks")
    for row in found.checks:
        yield _check_line(row, formatter)
    yield ""
    yield _("Next: {text}").format(text=found.next)


def _draw_lines(row: DrawRow, formatter: Formatter) -> Iterator[str]:
    head = _("Draw {number}, {day}: {purpose}").format(
        number=row.number, day=formatter.day(row.day), purpose=row.purpose
    )
    if row.set_number:
        head += " (" + _("set {number}").format(number=row.set_number) + ")"
    yield head
    yield "  " + _("Drawn: {units}").format(units=", ".join(row.drawn))
    yield "  " + _("Seed: {seed}").format(seed=row.seed)
    yield "  " + _("Drawn from: {units}").format(units=", ".join(row.pool))
    if not row.repeats:
        yield "  " + _("This seed leads to other units than those recorded.")


def _check_line(row: CheckRow, formatter: Formatter) -> str:
    unit = f"{row.unit} ({row.kind})" if row.kind else row.unit
    parts = [formatter.day(row.day), unit, row.address, row.measured, row.outcome]
    if row.again:
        parts.append(_("checked again"))
    by = _("checked by {name}").format(name=row.checked_by) if row.checked_by else ""
    return f"  {row.number}. " + ", ".join(
        part for part in (*parts, row.purpose, by, row.note) if part
    )


def log_table(plan: SamplingPlan) -> str:
    """Return the checks as comma-separated values with one line of headings; days are ISO 8601."""
    target = io.StringIO()
    writer = csv.writer(target)
    writer.writerow([_(words) for words in _COLUMNS])
    for row in log(plan).checks:
        again = _("yes") if row.again else _("no")
        place = (row.number, row.day.isoformat(), row.unit, row.kind, row.address, row.purpose)
        asked = (row.feature, row.threshold, row.measured, row.outcome, again)
        writer.writerow((*place, *asked, row.checked_by, row.note))
    return target.getvalue()


def save_log(plan: SamplingPlan, path: Path, formatter: Formatter) -> Path:
    """Write the log and return its file: a table where the name ends in .csv, else text.

    The ending is added if there is none. Raises SamplingProblem where nothing can be written.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_whole

    target = path if path.suffix.lower() in (TEXT, TABLE) else path.with_name(path.name + TEXT)
    is_table = target.suffix.lower() == TABLE
    text = log_table(plan) if is_table else log_text(plan, formatter)
    # The mark at the start lets spreadsheet programs read the letters right.
    encoding = "utf-8-sig" if is_table else "utf-8"
    try:
        write_whole(target, text.encode(encoding, "replace"))
    except JobFileProblem as problem:
        raise SamplingProblem(problem.code, problem.text) from problem
    return target
