"""Is this report what it says? Seals, the job inside, the printed figures, the issue: in words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.i18n import _, ngettext
from deskapp.session.answers import MOST_NAMED, Answer, quoted
from deskapp.session.answers import STANDING_WORDS as STANDING_WORDS
from deskapp.session.answers import AnswerLevel as AnswerLevel
from deskapp.session.carried import JOB_FILE, PRINT_FILE
from deskapp.session.checking_file import about_file
from deskapp.session.file_parts import parts_of
from deskapp.session.issuing import mark_of, tells_of
from deskapp.session.long_work import LongWork
from deskapp.session.page_words import lines_on, made_anew, only_in, plain
from deskapp.session.report_kinds import KIND_WORDS

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from deskapp.domain.issue import Issue
    from deskapp.domain.job import Job
    from deskapp.report.sealing.examine import Examined, Seal
    from deskapp.session.resources import Shelf
    from deskapp.units.display import Formatter

_PDF, _HEAD = b"%PDF-", 1024
"""How a PDF begins, and within how many bytes (ISO 32000-1, annex H.3, note 13)."""
_JOB_FILE = b"PK"
CODE_HEAD = "DUCTFOLIO"
_CODE_LINES = 6
_SHORTEST_MARK = 16
_STEPS = 3
_FIGURE = re.compile(r"\d")


@dataclass(frozen=True, slots=True)
class Checked:
    """All answers about a report, and the job found inside it, if there is one.

    `is_report` is false for a file of another kind, about which nothing can be answered.
    """

    answers: tuple[Answer, ...]
    job: Job | None = None
    is_report: bool = True

    @property
    def is_bad(self) -> bool:
        """Whether any answer is not as it should be."""
        return any(answer.standing is AnswerLevel.BAD for answer in self.answers)


def check_report(
    report: bytes, shelf: Shelf, formatter: Formatter, work: LongWork | None = None
) -> Checked:
    """Answer what can be known of a report without the internet.

    Args:
        report: the bytes of the PDF.
        shelf: what the job inside is worked out with.
        formatter: writes the days of the answers.
        work: told of each step; it may be given up at any time, since nothing is written.
    """
    work = work or LongWork()
    if _PDF not in report[:_HEAD]:
        words = _("This file is no PDF, so it is no report. Name the PDF that was handed over.")
        if report.startswith(_JOB_FILE):
            words = _(
                "This is no report, and may be a job file. Open it in the program, or see its"
                " result with “ductfolio verdict”."
            )
        return Checked((Answer(AnswerLevel.BAD, words),), is_report=False)
    from deskapp.report.sealing.examine import examine
    from deskapp.report.sealing.problems import SealProblem

    work.step(1, _STEPS, _("examining the signature"))
    try:
        examined = examine(report)
    except SealProblem as problem:
        return Checked((Answer(AnswerLevel.BAD, problem.text),))
    answers = list(_about_seals(examined, formatter))
    work.step(2, _STEPS, _("looking for the job inside"))
    job = _job_inside(examined)
    if job is None:
        text = _("No job is inside: this is no report of this program, or it was printed anew.")
        return Checked((*answers, Answer(AnswerLevel.BAD, text)))
    answers += _about_issue(job, formatter)
    work.step(3, _STEPS, _("comparing the printed results"))
    answers += _about_figures(report, job, examined, shelf)
    return Checked(tuple(answers), job)


def check_code(text: str, job: Job, formatter: Formatter) -> Checked:
    """Compare the code of a report on paper, scanned or typed, with the issues of `job`.

    The mark alone will do, or its first 16 signs.
    """
    mark, told = _read_code(text)
    fitting = [one for one in job.issued if mark and one.mark.startswith(mark)]
    found = next((one for one in fitting if told == _identity(one)), next(iter(fitting), None))
    if len(mark) < _SHORTEST_MARK:
        words = _("That is no code of a report: scan the square, or type the 16 signs of the mark.")
        return Checked((Answer(AnswerLevel.BAD, words),), job)
    if found is None:
        words = _("No issue of this job has the mark {mark}. The paper belongs to another job.")
        return Checked((Answer(AnswerLevel.BAD, words.format(mark=mark[:_SHORTEST_MARK])),), job)
    answers = [Answer(AnswerLevel.GOOD, _issue_words(found, formatter))]
    if told and told != _identity(found):
        words = _("Number, issue or day of the paper differ from the record of the job.")
        answers.append(Answer(AnswerLevel.BAD, words))
    return Checked((*answers, *_about_later(found, job)), job)


def _identity(issue: Issue) -> tuple[str, ...]:
    """Return what the code on paper says of an issue besides its mark."""
    return (issue.number, issue.kind, str(issue.revision), issue.issued_on.isoformat())


def _read_code(text: str) -> tuple[str, tuple[str, ...]]:
    lines = [line.strip() for line in text.strip().splitlines() if line.strip()]
    if len(lines) == _CODE_LINES and lines[0] == CODE_HEAD:
        return _hexadecimal(lines[-1]), tuple(lines[1:-1])
    return _hexadecimal(text), ()


def _hexadecimal(text: str) -> str:
    plain = re.sub(r"[\s-]+", "", text).lower()
    return plain if re.fullmatch(r"[0-9a-f]+", plain) else ""


def _about_seals(examined: Examined, formatter: Formatter) -> Iterator[Answer]:
    if not examined.seals:
        text = _("The report is not signed, so nothing proves that the file is unchanged.")
        yield Answer(AnswerLevel.KNOW, text)
        return
    last = examined.seals[-1]
    for one in examined.seals:
        yield _about_seal(one, formatter, is_last=one is last)


def _about_seal(seal: Seal, formatter: Formatter, *, is_last: bool) -> Answer:
    day = formatter.day(seal.signed_on.date()) if seal.signed_on else _("a day not stated")
    if not seal.is_right:
        text = _("The signature of {name} does not fit the file: the file was changed after it.")
        return Answer(AnswerLevel.BAD, text.format(name=seal.owner))
    if is_last and not seal.holds:
        text = _("{name} signed on {day}, but something was added to the file after that.")
        return Answer(AnswerLevel.BAD, text.format(name=seal.owner, day=day))
    if seal.voucher:
        text = _(
            "Signed by {name} on {day}, and unchanged since. {voucher} vouches for the name;"
            " without the internet nobody asked whether that still holds."
        )
        return Answer(AnswerLevel.GOOD, text.format(name=seal.owner, day=day, voucher=seal.voucher))
    text = _(
        "Signed as {name} on {day}, and unchanged since. Only the signer vouches for the name:"
        " compare the key {key} with the one the signer tells you."
    )
    return Answer(AnswerLevel.GOOD, text.format(name=seal.owner, day=day, key=seal.key_mark))


def _job_inside(examined: Examined) -> Job | None:
    from deskapp.archive.envelope import job_from_text
    from deskapp.archive.problems import JobFileProblem

    data = examined.files.get(JOB_FILE)
    try:
        return None if data is None else job_from_text(data, JOB_FILE)
    except JobFileProblem:
        return None


def _about_issue(job: Job, formatter: Formatter) -> Iterator[Answer]:
    if not job.issued:
        yield Answer(AnswerLevel.KNOW, _("The report was saved, not issued: it has no number."))
        return
    last = job.issued[-1]
    if last.mark != mark_of(job):
        text = _("The job inside is not the one that was issued: its mark is another.")
        yield Answer(AnswerLevel.BAD, text)
        return
    yield Answer(AnswerLevel.GOOD, _issue_words(last, formatter))


def _issue_words(issue: Issue, formatter: Formatter) -> str:
    kinds = {kind.value: _(words) for kind, words in KIND_WORDS.items()}
    told = _("{kind} {number}, issue {n} of {day}, by {by}.").format(
        kind=kinds.get(issue.kind, issue.kind),
        number=issue.number,
        n=issue.revision,
        day=formatter.day(issue.issued_on),
        by=issue.by or _("nobody named"),
    )
    if issue.made_on is None:
        return told
    more = _("This is a further paper of that issue, made on {day}.")
    return f"{told} {more.format(day=formatter.day(issue.made_on))}"


def _about_later(issue: Issue, job: Job) -> Iterator[Answer]:
    later = job.issues_of(issue.kind)[issue.revision :]
    if later:
        text = _("A later one takes its place: issue {n}.").format(n=later[-1].revision)
        yield Answer(AnswerLevel.BAD, text)
    elif tells_of(issue, job):
        yield Answer(AnswerLevel.GOOD, _("It is the latest, and the job is as it was then."))
    else:
        text = _("It is the latest, but the job was changed since. Issue the report again.")
        yield Answer(AnswerLevel.KNOW, text)


def _about_figures(report: bytes, job: Job, examined: Examined, shelf: Shelf) -> Iterator[Answer]:
    """Work the job out anew, and look for every figure of the result on the pages.

    Then every line of the pages is looked for in the report made anew, and the other way round.
    """
    anew = made_anew(job, examined.files.get(PRINT_FILE, b""), shelf)
    if anew is None:
        text = _("How the report was printed is not known, so its figures were not compared.")
        yield Answer(AnswerLevel.KNOW, text)
        return
    there = lines_on(report)
    if there is None:
        text = _("The pages cannot be read to their end: the file was damaged, or changed.")
        yield Answer(AnswerLevel.BAD, text)
        return
    printed = plain("\n".join(there))
    wanted = list(dict.fromkeys(_figures(anew.document)))
    missing = [text for text in wanted if plain(text) not in printed]
    if missing:
        text = _("{n} of {all} results of the job inside do not stand on the pages: {examples}.")
        named = "; ".join(missing[:MOST_NAMED])
        told = text.format(n=len(missing), all=len(wanted), examples=named)
        yield Answer(AnswerLevel.BAD, told)
    elif wanted:
        text = ngettext(
            "The job inside, worked out again, gives the one result that is printed.",
            "The job inside, worked out again, gives all {n} results that are printed.",
            len(wanted),
        )
        yield Answer(AnswerLevel.GOOD, text.format(n=len(wanted)))
    else:
        yield Answer(AnswerLevel.KNOW, _("The report prints no result that could be compared."))
    if not anew.is_alike:
        text = _(
            "Another version of the program printed it, or words of the company's own: only the"
            " results were compared, not each line of the pages, the pictures or the rest of the"
            " file."
        )
        yield Answer(AnswerLevel.KNOW, text)
        return
    parts = parts_of(report)
    fresh = anew.file(parts.pictures if parts else {})
    yield from _about_lines(there, lines_on(fresh) or ())
    yield from about_file(report, parts, fresh, anew, examined)


def _about_lines(there: tuple[str, ...], expected: tuple[str, ...]) -> Iterator[Answer]:
    """Compare each line of the pages with those of the report made anew."""
    foreign, lacking = tuple(only_in(there, expected)), tuple(only_in(expected, there))
    if foreign:
        text = _("The job inside does not make these words of the pages: {examples}.")
        yield Answer(AnswerLevel.BAD, text.format(examples=quoted(foreign)))
    if lacking:
        text = _("These words of the report are not on the pages: {examples}.")
        yield Answer(AnswerLevel.BAD, text.format(examples=quoted(lacking)))
    if not foreign and not lacking:
        yield Answer(AnswerLevel.GOOD, _("Each line of the pages is what the job inside makes."))


def _figures(value: object) -> Iterator[str]:
    """Yield the texts of a document that state a result with a figure in it."""
    from deskapp.report.blocks import KeepTogether, Scale, VerdictCard

    blocks = getattr(value, "blocks", ())
    for block in blocks:
        if isinstance(block, VerdictCard):
            yield from (one.value for one in block.figures if _FIGURE.search(one.value))
        elif isinstance(block, KeepTogether):
            yield from _figures(block)
        elif isinstance(block, Scale):
            marks = (block.measured, block.limit)
            yield from (mark.label for mark in marks if mark and _FIGURE.search(mark.label))


def read_report(path: Path) -> bytes:
    """Return the bytes of a report file. Raises OSError."""
    return path.read_bytes()
