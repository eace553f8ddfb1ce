"""Keys to sign with: the user's own certificate file (PKCS#12), or one made here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any, TypedDict, cast

from deskapp.i18n import _
from deskapp.report.sealing.problems import SealProblem

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.serialization.pkcs12 import PKCS12KeyAndCertificates
    from cryptography.x509 import Certificate

YEARS_VALID = 10
SHORTEST_PASSPHRASE = 8
_MARK = 16
_LAST_CHARACTER = 0xFFFF
"""Names with later ones, such as small pictures, are written differently when they are read back,
so that no signature with them would hold; found by trying."""
_LONGEST_NAME = 64
"""The most characters a common name holds. Source: RFC 5280, Appendix A.1, ub-common-name; from
memory, not checked against the text."""


class _Said(TypedDict):
    owner: str
    voucher: str
    valid_from: datetime
    valid_until: datetime
    key_mark: str
    certificate: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Certified:
    """What a certificate says: whom it names, who vouches for that, and when its key may sign.

    `key_mark` names the certificate as a check of a report tells it, `certificate` is itself (DER).
    """

    owner: str
    voucher: str
    valid_from: datetime
    valid_until: datetime
    key_mark: str
    certificate: bytes

    @property
    def is_self_made(self) -> bool:
        """Whether nobody but its owner vouches for the name."""
        return not self.voucher


@dataclass(frozen=True, slots=True, kw_only=True)
class SigningKey(Certified):
    """A key that was opened; `data` is its PKCS#12 file."""

    data: bytes
    passphrase: str


def make_key(owner: str, passphrase: str, now: datetime) -> bytes:
    """Return a new key as a PKCS#12 file: P-256, with a certificate that names `owner` itself.

    Raises SealProblem for a name or a passphrase that will not do.
    """
    from cryptography import x509
    from cryptography.hazmat.primitives import hashes, serialization
    from cryptography.hazmat.primitives.asymmetric import ec
    from cryptography.hazmat.primitives.serialization import pkcs12
    from cryptography.x509.oid import NameOID

    name = " ".join(owner.split())
    _refuse(name, passphrase)
    key = ec.generate_private_key(ec.SECP256R1())
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, name)])
    usage = x509.KeyUsage(
        digital_signature=True,
        content_commitment=True,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )
    certificate = (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(subject)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=1))
        .not_valid_after(now + timedelta(days=365 * YEARS_VALID))
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .sign(key, hashes.SHA256())
    )
    lock = serialization.BestAvailableEncryption(passphrase.encode())
    return pkcs12.serialize_key_and_certificates(name.encode(), key, certificate, None, lock)


def open_key(data: bytes, passphrase: str) -> SigningKey:
    """Open a PKCS#12 file. Raises SealProblem for a wrong passphrase and for any other file."""
    parts = _parts(data, passphrase)
    certificate = parts.cert
    if parts.key is None or certificate is None:
        text = _(
            "The file holds no key to sign with. Export key and certificate together (PKCS#12)."
        )
        raise SealProblem("no-key", text)
    return SigningKey(data=data, passphrase=passphrase, **_said(certificate.certificate))


def read_certificate(data: bytes) -> Certified:
    """Read a certificate alone (DER). Raises SealProblem for anything else."""
    from cryptography import x509

    try:
        return Certified(**_said(x509.load_der_x509_certificate(data)))
    except ValueError as error:
        raise SealProblem("certificate", _("The certificate cannot be read.")) from error


def _said(found: Certificate) -> _Said:
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.serialization import Encoding

    own = found.subject == found.issuer
    return {
        "owner": _called(found, found.subject),
        "voucher": "" if own else _called(found, found.issuer),
        "valid_from": found.not_valid_before_utc,
        "valid_until": found.not_valid_after_utc,
        "key_mark": found.fingerprint(SHA256()).hex()[:_MARK],
        "certificate": found.public_bytes(Encoding.DER),
    }


def _parts(data: bytes, passphrase: str) -> PKCS12KeyAndCertificates:
    from cryptography.hazmat.primitives.serialization import pkcs12

    try:
        return pkcs12.load_pkcs12(data, passphrase.encode() if passphrase else None)
    except ValueError as error:
        if _has_no_such_form(data):
            text = _(
                "This is no certificate file of the kind PKCS#12 (.p12 or .pfx). Choose the file "
                "that holds your key together with the certificate."
            )
            raise SealProblem("not-a-key", text) from error
        text = _("The passphrase does not open the key. Type it again; capitals count.")
        raise SealProblem("passphrase", text) from error


def _has_no_such_form(data: bytes) -> bool:
    from asn1crypto.pkcs12 import Pfx  # pyright: ignore[reportMissingTypeStubs] - untyped

    try:
        whole = cast("Any", Pfx).load(data)
        return bool(whole["version"].native != "v3")
    except (ValueError, TypeError):
        return True


def _called(certificate: Certificate, name: object) -> str:
    """Return what a certificate calls somebody: the common name, else the whole name."""
    from cryptography.x509 import Name
    from cryptography.x509.oid import NameOID

    whole = name if isinstance(name, Name) else certificate.subject
    common = whole.get_attributes_for_oid(NameOID.COMMON_NAME)
    return str(common[0].value) if common else whole.rfc4514_string()


def _refuse(name: str, passphrase: str) -> None:
    if not name or len(name) > _LONGEST_NAME:
        text = _("Type the name of the one who signs, {most} characters at most.")
        raise SealProblem("name", text.format(most=_LONGEST_NAME))
    strange = "".join(char for char in name if ord(char) > _LAST_CHARACTER)
    if strange:
        text = _("Type the name without {characters}: certificates with it cannot be read back.")
        raise SealProblem("name", text.format(characters=strange))
    if len(passphrase) < SHORTEST_PASSPHRASE:
        text = _("Choose a passphrase of {least} characters or more; a short sentence is best.")
        raise SealProblem("passphrase-short", text.format(least=SHORTEST_PASSPHRASE))
