"""Sealing a report, and finding out what a seal is worth.

Key files are read back by the library `cryptography`; that sealing leaves a report archival is
shown where the validator runs.
"""

from __future__ import annotations

import random
from datetime import UTC, date, datetime, timedelta
from io import BytesIO

import pikepdf
import pytest
from cryptography.hazmat.primitives.serialization import (
    BestAvailableEncryption,
    NoEncryption,
    pkcs12,
)
from reportlab.pdfgen.canvas import Canvas

from deskapp.report.archival.attachment import Attachment
from deskapp.report.archival.finish import finish
from deskapp.report.archival.metadata import Information
from deskapp.report.archival.structure import Element, Role
from deskapp.report.pdf.objects import objects_of
from deskapp.report.sealing.examine import examine
from deskapp.report.sealing.keys import SigningKey, make_key, open_key
from deskapp.report.sealing.problems import SealProblem
from deskapp.report.sealing.seal import seal

NOW = datetime.now(UTC)
WORDS = "a short sentence"
FLIPS = 500
SEED = 20261127


def page(text: str) -> bytes:
    canvas = Canvas("", invariant=1)
    canvas.drawString(72, 720, text)
    canvas.showPage()
    carried = Attachment("job.json", b"{}\n", "a job", "application/json")
    about = Information("A report", "", "", "", "", date(2026, 3, 12))
    return finish(objects_of(canvas), Element(Role.DOCUMENT), about, [carried])


@pytest.fixture(scope="module")
def key() -> SigningKey:
    return open_key(make_key("Tester A", WORDS, NOW), WORDS)


@pytest.fixture(scope="module")
def sealed(key: SigningKey) -> bytes:
    return seal(page("54.2 cfm"), key, NOW, "Issued")


def holds(report: bytes) -> bool:
    try:
        return examine(report).holds
    except SealProblem:
        return False


def test_that_a_key_names_its_owner_and_nobody_else_vouches(key: SigningKey) -> None:
    assert (key.owner, key.voucher, key.is_self_made) == ("Tester A", "", True)
    assert key.valid_until - NOW > timedelta(days=3600)


def test_that_a_key_opens_in_another_program() -> None:
    """Read back by the library `cryptography`: private key and certificate belong together."""
    found = pkcs12.load_pkcs12(make_key("Tester A", WORDS, NOW), WORDS.encode())
    assert found.key is not None and found.cert is not None
    assert found.key.public_key() == found.cert.certificate.public_key()


@pytest.mark.parametrize(
    ("data", "passphrase", "code"),
    [
        (b"", WORDS, "not-a-key"),
        (b"%PDF-1.7", WORDS, "not-a-key"),
        (b"\x30\x82\x00", WORDS, "not-a-key"),
        (None, "", "passphrase"),
        (None, "another sentence", "passphrase"),
    ],
)
def test_that_a_key_that_does_not_open_is_told_in_words(
    key: SigningKey, data: bytes | None, passphrase: str, code: str
) -> None:
    with pytest.raises(SealProblem) as told:
        open_key(key.data if data is None else data, passphrase)
    assert told.value.code == code
    assert told.value.text.endswith(".")


def test_that_a_file_without_a_key_is_told(key: SigningKey) -> None:
    found = pkcs12.load_pkcs12(key.data, WORDS.encode())
    assert found.cert is not None
    alone = pkcs12.serialize_key_and_certificates(
        None, None, None, [found.cert.certificate], NoEncryption()
    )
    with pytest.raises(SealProblem) as told:
        open_key(alone, "")
    assert told.value.code == "no-key"


@pytest.mark.parametrize(
    ("owner", "passphrase", "code"),
    [
        ("", WORDS, "name"),
        ("  ", WORDS, "name"),
        ("x" * 65, WORDS, "name"),
        ("Robin \N{GRINNING FACE}", WORDS, "name"),
        ("Tester A", "short", "passphrase-short"),
    ],
)
def test_that_a_poor_name_or_passphrase_makes_no_key(
    owner: str, passphrase: str, code: str
) -> None:
    with pytest.raises(SealProblem) as told:
        make_key(owner, passphrase, NOW)
    assert told.value.code == code


def test_that_any_name_may_sign() -> None:
    name = "Łucja Ñandú 測試 & <b>"
    key = open_key(make_key(name, "пароль с пробелами", NOW), "пароль с пробелами")
    assert examine(seal(page("x"), key, NOW)).seals[0].owner == name


def test_that_a_seal_covers_the_whole_report(sealed: bytes) -> None:
    found = examine(sealed)
    (one,) = found.seals
    assert found.holds and one.holds and one.covers_whole_file
    assert (one.owner, one.voucher) == ("Tester A", "")
    assert one.signed_on is not None
    assert NOW.replace(microsecond=0) <= one.signed_on <= datetime.now(UTC)
    assert found.files["job.json"] == b"{}\n"


def test_that_sealing_only_adds_to_the_report(sealed: bytes) -> None:
    assert sealed.startswith(page("54.2 cfm"))


def test_that_a_report_without_a_seal_claims_none() -> None:
    found = examine(page("54.2 cfm"))
    assert found.seals == () and not found.holds
    assert list(found.files) == ["job.json"]


def test_that_every_flipped_bit_is_refused(sealed: bytes) -> None:
    """One bit at a time, half of them in the signature itself, which nothing signs."""
    source = random.Random(SEED)
    begin = len(page("54.2 cfm"))
    spans = [(0, len(sealed)), (begin, len(sealed))]
    accepted: list[int] = []
    for turn in range(FLIPS):
        at = source.randrange(*spans[turn % 2])
        changed = bytearray(sealed)
        changed[at] ^= 1 << source.randrange(8)
        if holds(bytes(changed)):
            accepted.append(at)
    assert accepted == []


def test_that_digits_of_the_signature_in_other_letters_are_refused(sealed: bytes) -> None:
    start = sealed.rindex(b"/Contents <") + len(b"/Contents <")
    end = sealed.index(b">", start)
    digits = sealed[start:end]
    at = next(n for n, digit in enumerate(digits) if digit in b"ABCDEF")
    turned = digits[:at] + digits[at : at + 1].lower() + digits[at + 1 :]
    assert not holds(sealed[:start] + turned + sealed[end:])
    assert not holds(sealed[:start] + digits[:-1] + b"1" + sealed[end:])


def test_that_another_version_of_the_signature_is_refused(sealed: bytes) -> None:
    """Nothing signs the version of a signature; RFC 5652, 5.1, says which one it has to be."""
    before = b"/Contents <308202"
    at = sealed.rindex(b"0201013", sealed.rindex(before), sealed.rindex(before) + 80)
    assert holds(sealed)
    assert not holds(sealed[:at] + b"0201033" + sealed[at + 7 :])


def test_that_something_added_after_sealing_is_seen(sealed: bytes) -> None:
    """The signature itself stays right; the judgment is of the whole file."""
    from pyhanko.pdf_utils.generic import NumberObject
    from pyhanko.pdf_utils.incremental_writer import IncrementalPdfFileWriter

    writer = IncrementalPdfFileWriter(BytesIO(sealed))
    first = writer.root["/Pages"]["/Kids"][0]
    first["/Rotate"] = NumberObject(90)
    writer.update_container(first)
    later = BytesIO()
    writer.write(later)
    found = examine(later.getvalue())
    assert not found.holds
    assert found.seals[0].is_right and not found.seals[0].covers_whole_file


def test_that_a_report_saved_anew_by_another_program_is_refused(sealed: bytes) -> None:
    again = BytesIO()
    with pikepdf.open(BytesIO(sealed)) as pdf:
        pdf.save(again)
    assert not holds(again.getvalue())


def test_that_bytes_after_the_end_are_refused(sealed: bytes) -> None:
    assert not holds(sealed + b"\n% more\n")


@pytest.mark.parametrize("junk", [b"", b"%PDF-1.7\n", b"PK\x03\x04", b"\0" * 5000])
def test_that_what_is_no_report_is_told(junk: bytes) -> None:
    with pytest.raises(SealProblem, match="no PDF"):
        examine(junk)


def test_that_a_certificate_that_ran_out_does_not_sign() -> None:
    then = NOW - timedelta(days=365 * 11)
    old = open_key(make_key("Tester A", WORDS, then), WORDS)
    with pytest.raises(SealProblem, match="ran out"):
        seal(page("x"), old, NOW)
    early = open_key(make_key("Tester A", WORDS, NOW + timedelta(days=9)), WORDS)
    with pytest.raises(SealProblem, match="clock"):
        seal(page("x"), early, NOW)


def test_that_what_cannot_be_signed_is_told(key: SigningKey) -> None:
    with pytest.raises(SealProblem, match="could not be signed"):
        seal(b"%PDF-1.7 no", key, NOW)


def test_that_a_key_under_another_voucher_is_told_as_such() -> None:
    """A chain made here: an invented authority vouches for an invented tester."""
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.x509.oid import NameOID

    def named(words: str) -> x509.Name:
        return x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, words)])

    authority, own = (
        ec.generate_private_key(ec.SECP256R1()),
        ec.generate_private_key(ec.SECP256R1()),
    )
    certificate = (
        x509.CertificateBuilder()
        .subject_name(named("Tester B"))
        .issuer_name(named("Invented Authority"))
        .public_key(own.public_key())
        .serial_number(7)
        .not_valid_before(NOW - timedelta(days=1))
        .not_valid_after(NOW + timedelta(days=30))
        .sign(authority, hashes.SHA256())
    )
    lock = BestAvailableEncryption(WORDS.encode())
    data = pkcs12.serialize_key_and_certificates(b"b", own, certificate, None, lock)
    key = open_key(data, WORDS)
    assert (key.owner, key.voucher, key.is_self_made) == ("Tester B", "Invented Authority", False)
    (one,) = examine(seal(page("x"), key, NOW)).seals
    assert one.holds and one.voucher == "Invented Authority"


def test_that_the_field_of_a_seal_has_an_appearance_of_nothing(sealed: bytes) -> None:
    # ISO 32000-2, 12.5.5: a field has an appearance; from memory, not checked against the text.
    with pikepdf.open(BytesIO(sealed)) as pdf:
        [field] = pdf.Root.AcroForm.Fields
        assert [float(edge) for edge in field.Rect] == [0.0, 0.0, 0.0, 0.0]
        shown = field.AP.N
        assert (shown.Subtype, shown.read_bytes()) == (pikepdf.Name.Form, b"")
        assert [float(edge) for edge in shown.BBox] == [0.0, 0.0, 0.0, 0.0]
