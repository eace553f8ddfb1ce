"""Signs a finished report: PAdES baseline (B-B), the last thing done to the file."""

from __future__ import annotations

import logging
from io import BytesIO
from typing import TYPE_CHECKING, Any

from deskapp.i18n import _
from deskapp.report.sealing.problems import SealProblem
from deskapp.units.display import day_in_words

if TYPE_CHECKING:
    from datetime import datetime

    from deskapp.report.sealing.keys import SigningKey

FIELD = "signature"


def seal(report: bytes, key: SigningKey, now: datetime, reason: str = "") -> bytes:
    """Return `report` with a signature over the whole file.

    Args:
        report: a finished PDF without a signature.
        key: an opened key.
        now: the time of signing, with its time zone; it is the signer's word, no timestamp.
        reason: why it is signed, in a few words.

    The file is only added to, so that what made it archival and accessible stays true.
    Raises SealProblem for a key that may not sign now, and for a file that cannot be signed.
    Source of the form: ETSI EN 319 142-1, PAdES baseline B-B, as the library pyHanko writes it.
    """
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter
    from pyhanko.pdf_utils.misc import PdfError
    from pyhanko.sign import signers
    from pyhanko.sign.fields import SigSeedSubFilter
    from pyhanko.sign.general import SigningError

    _refuse(key, now)
    logging.getLogger("pyhanko").setLevel(logging.CRITICAL)
    signer = signers.SimpleSigner.load_pkcs12_data(key.data, [], key.passphrase.encode())
    about = signers.PdfSignatureMetadata(
        field_name=FIELD,
        md_algorithm="sha256",
        subfilter=SigSeedSubFilter.PADES,
        name=key.owner,
        reason=reason or None,
    )
    try:
        writer = IncrementalPdfFileWriter(BytesIO(report))
        _add_field(writer)
        signing: Any = signers.PdfSigner(about, signer=signer)
        signed: BytesIO = signing.sign_pdf(writer, output=BytesIO())
    except (PdfError, SigningError, ValueError) as error:
        text = _("The report could not be signed: {why}.").format(why=error)
        raise SealProblem("not-signed", text) from error
    if not _holds(signed.getvalue()):
        text = _("The signature could not be read back, so nothing was signed. Use another key.")
        raise SealProblem("not-signed", text)
    return signed.getvalue()


def _add_field(writer: Any) -> None:
    """Add the field of the signature, which shows nothing, with an appearance of nothing.

    ISO 32000-2, 12.5.5 asks each field for an appearance unless it takes no room; readers that know
    no such exception warn without one. From memory, not checked against the text.
    """
    from pyhanko.pdf_utils import generic
    from pyhanko.sign.fields import SigFieldSpec, append_signature_field

    append_signature_field(writer, SigFieldSpec(FIELD))
    added: Any = writer.root["/AcroForm"]["/Fields"][-1]
    nothing: Any = generic.StreamObject(
        {
            generic.pdf_name("/Type"): generic.pdf_name("/XObject"),
            generic.pdf_name("/Subtype"): generic.pdf_name("/Form"),
            generic.pdf_name("/BBox"): generic.ArrayObject([generic.NumberObject(0)] * 4),
            generic.pdf_name("/Resources"): generic.DictionaryObject(),
        },
        stream_data=b"",
    )
    appearance = generic.DictionaryObject({generic.pdf_name("/N"): writer.add_object(nothing)})
    added[generic.pdf_name("/AP")] = appearance


def _holds(report: bytes) -> bool:
    from deskapp.report.sealing.examine import examine

    try:
        return examine(report).holds
    except SealProblem:
        return False


def _refuse(key: SigningKey, now: datetime) -> None:
    if now > key.valid_until:
        text = _("The certificate of {owner} ran out on {day}. Renew it, or make a new key.")
        raise SealProblem(
            "ran-out", text.format(owner=key.owner, day=day_in_words(key.valid_until.date()))
        )
    if now < key.valid_from:
        text = _("The certificate of {owner} holds from {day} on. Check the clock of the computer.")
        raise SealProblem(
            "too-early", text.format(owner=key.owner, day=day_in_words(key.valid_from.date()))
        )
