"""The kept signing key: made, taken, opened, removed. The certificates are invented."""

from __future__ import annotations

import os
import stat
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import rsa
from cryptography.hazmat.primitives.serialization import pkcs12
from cryptography.x509.oid import NameOID

from deskapp.session import signing_key
from deskapp.session.signing_key import CERTIFICATE_FILE, KEY_FILE, SealProblem
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

NOW = datetime(2026, 3, 12, 9, 30, tzinfo=UTC)
WORDS = "a short sentence"
US = Formatter(UnitSystem.IP, NumberStyle.POINT)


def certificate_file(path: Path, until: datetime, voucher: str = "Example Authority") -> Path:
    """A certificate file as an authority would hand it out, made by the library cryptography."""
    key = rsa.generate_private_key(public_exponent=65537, key_size=2048)
    named = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Pat Example")])
    made = (
        x509.CertificateBuilder()
        .subject_name(named)
        .issuer_name(x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, voucher)]))
        .public_key(key.public_key())
        .serial_number(77)
        .not_valid_before(datetime(2020, 1, 1, tzinfo=UTC))
        .not_valid_after(until)
        .sign(key, hashes.SHA256())
    )
    lock = serialization.BestAvailableEncryption(WORDS.encode())
    path.write_bytes(pkcs12.serialize_key_and_certificates(b"k", key, made, None, lock))
    return path


def problem_of(work: Callable[[], object]) -> SealProblem:
    with pytest.raises(SealProblem) as caught:
        work()
    return caught.value


def test_that_a_key_is_made_kept_and_opened(tmp_path: Path) -> None:
    folder = tmp_path / "not there yet"
    assert signing_key.kept(folder) is None
    made = signing_key.make(folder, "  Pat   Example ", WORDS, WORDS, NOW)
    told = signing_key.kept(folder)
    assert told is not None and told.owner == "Pat Example" and told.key_mark == made.key_mark
    opened = signing_key.open_kept(folder, WORDS)
    assert opened.key_mark == told.key_mark and opened.is_self_made


def test_that_the_mark_is_the_start_of_the_digest_of_the_certificate(tmp_path: Path) -> None:
    """The digest is worked out by the library cryptography from the file beside the key."""
    made = signing_key.make(tmp_path, "Pat", WORDS, WORDS, NOW)
    stored = x509.load_der_x509_certificate((tmp_path / CERTIFICATE_FILE).read_bytes())
    assert stored.fingerprint(hashes.SHA256()).hex().startswith(made.key_mark)
    assert len(made.key_mark) == 16


def test_that_only_its_owner_may_read_the_key(tmp_path: Path) -> None:
    """Windows knows no such modes; there the folder of the user is what protects it."""
    signing_key.make(tmp_path, "Pat", WORDS, WORDS, NOW)
    mode = stat.S_IMODE((tmp_path / KEY_FILE).stat().st_mode)
    assert mode == 0o600 if os.name == "posix" else mode


def test_that_the_passphrase_is_in_no_file(tmp_path: Path) -> None:
    signing_key.make(tmp_path, "Pat", WORDS, WORDS, NOW)
    assert all(WORDS.encode() not in file.read_bytes() for file in tmp_path.iterdir())


@pytest.mark.parametrize(
    ("owner", "first", "second", "code"),
    [
        ("", WORDS, WORDS, "name"),
        ("x" * 65, WORDS, WORDS, "name"),
        ("Pat", "short", "short", "passphrase-short"),
        ("Pat", WORDS, WORDS + ".", "again"),
        ("Pat", "", "", "passphrase-short"),
    ],
)
def test_that_entries_that_will_not_do_are_refused_and_nothing_is_kept(
    tmp_path: Path, owner: str, first: str, second: str, code: str
) -> None:
    found = problem_of(lambda: signing_key.make(tmp_path, owner, first, second, NOW))
    assert found.code == code and found.text.endswith(".")
    assert signing_key.kept(tmp_path) is None


def test_that_a_certificate_file_is_taken_and_says_who_vouches(tmp_path: Path) -> None:
    file = certificate_file(tmp_path / "mine.pfx", NOW + timedelta(days=30))
    folder = tmp_path / "settings"
    signing_key.take(folder, file, WORDS, NOW)
    told = signing_key.kept(folder)
    assert told is not None
    facts = dict(signing_key.facts(told, US, NOW))
    assert facts["Vouched for by"] == "Example Authority"
    assert facts["May sign until"].replace("\N{NO-BREAK SPACE}", " ") == "Apr 11, 2026"
    assert "Example Authority vouches" in signing_key.worth(told)
    assert "does not prove who signed" in signing_key.worth(None)


def test_that_a_certificate_that_ran_out_is_refused_when_taken_and_later(tmp_path: Path) -> None:
    file = certificate_file(tmp_path / "mine.p12", NOW + timedelta(days=1))
    later = NOW + timedelta(days=2)
    assert problem_of(lambda: signing_key.take(tmp_path, file, WORDS, later)).code == "ran-out"
    signing_key.take(tmp_path, file, WORDS, NOW)
    assert signing_key.kept_to_sign(tmp_path, NOW) is not None
    found = problem_of(lambda: signing_key.kept_to_sign(tmp_path, later))
    assert "Pat Example ran out on Mar\N{NO-BREAK SPACE}13, 2026" in found.text
    kept = signing_key.kept(tmp_path)
    assert kept is not None
    assert "ran out" in dict(signing_key.facts(kept, US, later))["May sign until"]


@pytest.mark.parametrize("junk", [b"", b"no key at all", b"%PDF-1.7", b"\x30\x82\xff\xff"])
def test_that_any_other_file_is_refused_in_words(tmp_path: Path, junk: bytes) -> None:
    file = tmp_path / "x.p12"
    file.write_bytes(junk)
    assert problem_of(lambda: signing_key.take(tmp_path, file, WORDS, NOW)).code == "not-a-key"
    gone = tmp_path / "gone.p12"
    assert "gone.p12" in problem_of(lambda: signing_key.take(tmp_path, gone, WORDS, NOW)).text


def test_that_a_wrong_passphrase_is_told_as_such(tmp_path: Path) -> None:
    file = certificate_file(tmp_path / "mine.p12", NOW + timedelta(days=1))
    assert problem_of(lambda: signing_key.take(tmp_path, file, "other", NOW)).code == "passphrase"
    signing_key.make(tmp_path, "Pat", WORDS, WORDS, NOW)
    assert problem_of(lambda: signing_key.open_kept(tmp_path, "other")).code == "passphrase"


@pytest.mark.parametrize("data", [None, b"", b"junk"])
def test_that_a_damaged_key_is_told_and_can_be_removed(tmp_path: Path, data: bytes | None) -> None:
    signing_key.make(tmp_path, "Pat", WORDS, WORDS, NOW)
    if data is None:
        (tmp_path / CERTIFICATE_FILE).unlink()
    else:
        (tmp_path / CERTIFICATE_FILE).write_bytes(data)
    assert problem_of(lambda: signing_key.kept(tmp_path)).code == "damaged"
    signing_key.remove(tmp_path, NOW)
    assert signing_key.kept(tmp_path) is None


def test_that_a_removed_key_is_moved_aside_whole(tmp_path: Path) -> None:
    signing_key.make(tmp_path, "Pat", WORDS, WORDS, NOW)
    before = (tmp_path / KEY_FILE).read_bytes()
    aside = signing_key.remove(tmp_path, NOW)
    assert aside.read_bytes() == before
    assert problem_of(lambda: signing_key.open_kept(tmp_path, WORDS)).code == "no-key"


def test_that_a_folder_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("")
    found = problem_of(lambda: signing_key.make(blocked / "below", "Pat", WORDS, WORDS, NOW))
    assert found.code == "write" and KEY_FILE in found.text
