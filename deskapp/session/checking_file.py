"""Is a report file what the job inside makes, beyond the words of its pages?"""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING

from deskapp.i18n import _, ngettext
from deskapp.session.answers import Answer, AnswerLevel, quoted
from deskapp.session.carried import JOB_FILE, PRINT_FILE
from deskapp.session.file_parts import before_seals, parts_of

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from deskapp.report.sealing.examine import Examined
    from deskapp.session.file_parts import FileParts
    from deskapp.session.page_words import MadeAnew


def about_file(
    report: bytes,
    found: FileParts | None,
    fresh: bytes,
    anew: MadeAnew,
    examined: Examined,
) -> Iterator[Answer]:
    """Compare a report with the file made anew, part by part; each difference is an answer.

    Args:
        report: the bytes of the report.
        found: its parts; None where they cannot be read.
        fresh: the bytes of the file made anew.
        anew: what the file was made anew from.
        examined: the files the report names as belonging to it, and its seals.
    """
    expected = parts_of(fresh)
    if found is None or expected is None:
        text = _(
            "The parts of the file beside its pages cannot be read: it was damaged or changed."
        )
        yield Answer(AnswerLevel.BAD, text)
        return
    # A signature only adds to a file, but says who wrote it last, and when.
    is_signed = bool(examined.seals)
    told = (
        *_about_itself((is_signed and parts_of(before_seals(report))) or found, expected),
        *_about_files(found.files, examined.files, expected.files),
        *_about_pages(found, expected, anew),
        *_about_what_lies_on_top(found),
    )
    yield from told
    if any(one.standing is AnswerLevel.BAD for one in told):
        return
    yield from _as_a_whole(report, fresh, anew, is_signed=is_signed)


def _as_a_whole(
    report: bytes, fresh: bytes, anew: MadeAnew, *, is_signed: bool
) -> Iterator[Answer]:
    """Say how far a file is the same of which no part is different."""
    if not report.startswith(fresh) or (len(report) > len(fresh) and not is_signed):
        text = _(
            "What the file says of itself, its attached files and its pictures are what the job"
            " inside makes."
        )
        yield Answer(AnswerLevel.GOOD, text)
        if not anew.logo_name:
            text = _(
                "Yet the file is not byte for byte the one this program makes: it was saved once"
                " more by another program, or changed where nothing is compared, as in its letters."
            )
            yield Answer(AnswerLevel.KNOW, text)
        return
    text = _(
        "The file is byte for byte what this program makes of the job inside: pages, drawings,"
        " pictures, attached files, and what it says of itself."
    )
    if is_signed:
        text = _(
            "Up to the signature the file is byte for byte what this program makes of the job"
            " inside: pages, drawings, pictures, attached files, and what it says of itself."
        )
    yield Answer(AnswerLevel.GOOD, text)


def _about_itself(found: FileParts, expected: FileParts) -> Iterator[Answer]:
    names = sorted({*found.information, *expected.information})
    odd = [name for name in names if found.information.get(name) != expected.information.get(name)]
    if odd:
        said = tuple(f"{name}: {found.information.get(name, '')}" for name in odd)
        text = _("The job inside does not make what the file says of itself: {examples}.")
        yield Answer(AnswerLevel.BAD, text.format(examples=quoted(said)))
    if found.metadata != expected.metadata:
        text = _(
            "The job inside does not make what the file says of itself to other programs (its XMP"
            " metadata)."
        )
        yield Answer(AnswerLevel.BAD, text)


def _about_files(
    found: Mapping[str, bytes], named: Mapping[str, bytes], expected: Mapping[str, bytes]
) -> Iterator[Answer]:
    for name in (JOB_FILE, PRINT_FILE):
        if not found.get(name) == named.get(name) == expected[name]:
            text = _("The attached file {name} is not as the program writes it: it was changed.")
            yield Answer(AnswerLevel.BAD, text.format(name=name))
    foreign = tuple(sorted({*found, *named} - set(expected)))
    if foreign:
        text = _("These attached files are none of this report: {examples}.")
        yield Answer(AnswerLevel.BAD, text.format(examples=quoted(foreign)))


def _about_pictures(found: FileParts, anew: MadeAnew) -> Iterator[Answer]:
    """Compare the pictures on the pages with the digests in the job, which tell their files."""
    wanted = anew.pictures_of_job
    foreign = len(set(found.pictures) - wanted)
    lacking, others = len(wanted - set(found.pictures)), found.others
    if anew.logo_name.lower().endswith((".jpg", ".jpeg")):
        foreign = max(foreign - 1, 0)
    elif anew.logo_name:
        others = max(others - 1, 0)
    unknown = min(lacking, others)
    if foreign:
        text = ngettext(
            "{n} picture on the pages is none that the job names.",
            "{n} pictures on the pages are none that the job names.",
            foreign,
        )
        yield Answer(AnswerLevel.BAD, text.format(n=foreign))
    if lacking > unknown:
        text = ngettext(
            "{n} picture of the job does not stand on the pages as it is kept.",
            "{n} pictures of the job do not stand on the pages as they are kept.",
            lacking - unknown,
        )
        yield Answer(AnswerLevel.BAD, text.format(n=lacking - unknown))
    if unknown:
        text = ngettext(
            "{n} picture is no JPEG file, and could not be compared.",
            "{n} pictures are no JPEG files, and could not be compared.",
            unknown,
        )
        yield Answer(AnswerLevel.KNOW, text.format(n=unknown))
    if anew.logo_name:
        text = _("The logo of the company is not kept in the job, so it was not compared.")
        yield Answer(AnswerLevel.KNOW, text)


def _about_pages(found: FileParts, expected: FileParts, anew: MadeAnew) -> Iterator[Answer]:
    """Compare pictures, then what draws each page, which follows from the pictures as well."""
    told = tuple(_about_pictures(found, anew))
    yield from told
    if told:
        yield Answer(AnswerLevel.KNOW, _("Drawings and colors were not compared."))
    else:
        yield from _about_drawings(found, expected)


def _about_drawings(found: FileParts, expected: FileParts) -> Iterator[Answer]:
    """Compare what draws each page: something laid over it or taken out changes no word."""
    pairs = zip_longest(found.drawn, expected.drawn)
    odd = [str(number) for number, (one, other) in enumerate(pairs, 1) if one != other]
    if odd:
        text = ngettext(
            "What draws page {pages} is not what the job inside makes: something was laid over it,"
            " taken out, or drawn in another way.",
            "What draws pages {pages} is not what the job inside makes: something was laid over"
            " them, taken out, or drawn in another way.",
            len(odd),
        )
        yield Answer(AnswerLevel.BAD, text.format(pages=", ".join(odd)))


def _about_what_lies_on_top(found: FileParts) -> Iterator[Answer]:
    if found.on_top:
        text = ngettext(
            "{n} note, stamp or field lies on the pages that the program does not make.",
            "{n} notes, stamps or fields lie on the pages that the program does not make.",
            found.on_top,
        )
        yield Answer(AnswerLevel.BAD, text.format(n=found.on_top))
