"""What a report says of itself: its seals, how far each one reaches, and the files inside."""

from __future__ import annotations

import logging
from contextlib import suppress
from dataclasses import dataclass, field
from io import BytesIO
from typing import TYPE_CHECKING, Any, cast

from deskapp.i18n import _
from deskapp.report.sealing.problems import SealProblem

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import datetime

    from pyhanko.pdf_utils.reader import PdfFileReader
    from pyhanko.sign.validation import EmbeddedPdfSignature

_PADDING = b"0"


@dataclass(frozen=True, slots=True)
class Seal:
    """One signature of a report.

    `holds` is the whole judgment: the signature is right, it covers the whole file as it is now,
    and nothing was added after it. `signed_on` is the word of the signer's own clock; `voucher` is
    who vouches for the name, empty where only its owner does. `key_mark` names the key itself.
    """

    holds: bool
    owner: str
    voucher: str
    signed_on: datetime | None
    covers_whole_file: bool
    is_right: bool
    key_mark: str


@dataclass(frozen=True, slots=True)
class Examined:
    """A report that was looked at: its seals, oldest first, and the files it carries, by name."""

    seals: tuple[Seal, ...]
    files: Mapping[str, bytes] = field(default_factory=dict[str, bytes])

    @property
    def holds(self) -> bool:
        """Whether there is a seal, and the last one holds over the whole file."""
        return bool(self.seals) and self.seals[-1].holds


def examine(report: bytes) -> Examined:
    """Look at the seals and files of a PDF. Raises SealProblem for what is no readable PDF.

    A certificate is taken as it stands in the file: without the internet nobody can be asked
    whether it was revoked, so `voucher` is told and not judged.
    """
    from pyhanko.pdf_utils.reader import PdfFileReader

    logging.getLogger("pyhanko").setLevel(logging.CRITICAL)
    try:
        reader = PdfFileReader(BytesIO(report), strict=False)
        found = list(reader.embedded_signatures)
        seals = tuple(_seal(one, report, is_last=one is found[-1]) for one in found)
    except Exception as error:  # what a damaged file sets off in the library has no common name
        raise _unreadable() from error
    try:
        files = _files(reader)
    except Exception as error:
        text = _("The job inside the file is damaged, or was changed. Ask for the file once more.")
        raise SealProblem("inside", text) from error
    return Examined(seals, files)


def _seal(one: EmbeddedPdfSignature, report: bytes, *, is_last: bool) -> Seal:
    certificate: Any = one.signer_cert
    is_right, whole, untouched = _judged(one, report)
    own = certificate.subject == certificate.issuer
    return Seal(
        holds=is_right and whole and untouched,
        owner=_called(certificate.subject.native),
        voucher="" if own else _called(certificate.issuer.native),
        signed_on=one.self_reported_timestamp,
        covers_whole_file=whole and is_last,
        is_right=is_right,
        key_mark=certificate.sha256.hex()[:16],
    )


def _judged(one: EmbeddedPdfSignature, report: bytes) -> tuple[bool, bool, bool]:
    """Say whether a signature is right, covers the whole file, and nothing came after it.

    The quick questions come first: what the signature says of the file, before what it is.
    """
    from pyhanko.sign.diff_analysis import ModificationLevel
    from pyhanko.sign.validation import SignatureCoverageLevel, validate_pdf_signature
    from pyhanko_certvalidator import ValidationContext

    trust = ValidationContext(
        trust_roots=[one.signer_cert], allow_fetching=False, moment=one.self_reported_timestamp
    )
    cast("Any", one).compute_integrity_info()
    whole = one.coverage is SignatureCoverageLevel.ENTIRE_FILE
    if one.compute_digest() != _said_digest(one):
        return False, whole, False
    status = validate_pdf_signature(one, trust)
    untouched = status.modification_level is ModificationLevel.NONE
    is_right = bool(status.intact and status.valid) and _is_as_written(one, report)
    return is_right, whole, untouched and bool(status.bottom_line)


def _said_digest(one: EmbeddedPdfSignature) -> bytes:
    """Return the digest of the file that the signature states."""
    signer: Any = one.signer_info
    said = {entry["type"].native: entry["values"][0] for entry in signer["signed_attrs"]}
    return bytes(said["message_digest"].native)


def _is_as_written(one: EmbeddedPdfSignature, report: bytes) -> bool:
    """Say whether the signature itself stands in the file in the one way it is written.

    It cannot sign itself, so its bytes and the padding after them are held against what a writer
    puts there: the same structure again, in hexadecimal digits of one case, filled up with zeros.
    """
    from asn1crypto.cms import ContentInfo  # pyright: ignore[reportMissingTypeStubs] - untyped

    start, length, go_on, _rest = (int(number) for number in cast("Any", one.byte_range))
    gap = report[start + length : go_on]
    if gap[:1] != b"<" or gap[-1:] != b">":
        return False
    digits = gap[1:-1]
    whole = bytes.fromhex(digits.decode("ascii"))
    info = cast("Any", ContentInfo).load(whole)
    plain = bytes(info.dump(force=True))
    if whole[: len(plain)] != plain or not _agrees_with_itself(info):
        return False
    written = plain.hex().encode()
    return digits in (
        written.ljust(len(digits), _PADDING),
        written.upper().ljust(len(digits), _PADDING),
    )


def _agrees_with_itself(info: Any) -> bool:
    """Say whether what the signature says twice, without signing it, is the same both times.

    Its versions are not signed either; they follow from how it names its signer (RFC 5652, 5.1
    and 5.3).
    """
    content = info["content"]
    (signer,) = content["signer_infos"]
    (digest,) = content["digest_algorithms"]
    said = signer["sid"].chosen
    certificates = [choice.chosen for choice in content["certificates"]]
    if not content["version"].native == signer["version"].native == "v1":
        return False
    return digest.dump() == signer["digest_algorithm"].dump() and any(
        said["issuer"].dump() == one.issuer.dump()
        and said["serial_number"].native == one.serial_number
        for one in certificates
    )


def _called(name: Mapping[str, object]) -> str:
    return str(name.get("common_name") or ", ".join(str(part) for part in name.values()))


def _files(reader: PdfFileReader) -> dict[str, bytes]:
    found: dict[str, bytes] = {}
    root = cast("Any", reader.root)
    with suppress(KeyError):
        for reference in root["/AF"]:
            spec = reference.get_object()
            found[str(spec["/UF"])] = bytes(spec["/EF"]["/F"].data)
    return found


def _unreadable() -> SealProblem:
    text = _("The file is no PDF that can be read to its end. Ask for it once more.")
    return SealProblem("unreadable", text)
