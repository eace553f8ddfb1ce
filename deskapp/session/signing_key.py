"""The user's own key to sign with, kept beside the preferences; its passphrase is kept nowhere.

Beside the locked key file stands its certificate, which is public, so that the program can say
whom the key names without asking for the passphrase.
"""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.report.sealing.problems import SealProblem as SealProblem
from deskapp.session.long_work import LongWork
from deskapp.units.display import day_in_words

if TYPE_CHECKING:
    from datetime import datetime
    from pathlib import Path

    from deskapp.report.sealing.keys import Certified as Certified
    from deskapp.report.sealing.keys import SigningKey
    from deskapp.units.display import Formatter

KEY_FILE = "signing-key.p12"
CERTIFICATE_FILE = "signing-key.cer"
_LARGEST = 1_000_000
_STEPS = 3


def kept(folder: Path) -> Certified | None:
    """Return what the kept key says of itself; None where there is no key.

    Raises SealProblem where part of it is missing or damaged.
    """
    from deskapp.report.sealing.keys import read_certificate

    if not (folder / KEY_FILE).exists():
        return None
    try:
        return read_certificate((folder / CERTIFICATE_FILE).read_bytes())
    except (OSError, SealProblem) as error:
        text = _("Part of your signing key is damaged. Remove it, and make or take one anew.")
        raise SealProblem("damaged", text) from error


def kept_to_sign(folder: Path, now: datetime) -> Certified | None:
    """Return what the kept key says of itself. Raises SealProblem also if it may not sign now."""
    key = kept(folder)
    if key is not None and now > key.valid_until:
        raise _ran_out(key)
    return key


def make(
    folder: Path,
    owner: str,
    passphrase: str,
    again: str,
    now: datetime,
    work: LongWork | None = None,
) -> Certified:
    """Make a key and keep it. Raises SealProblem for entries that will not do, and if it fails.

    `work` given up in time keeps no key.
    """
    from deskapp.report.sealing.keys import make_key, open_key

    work = work or LongWork()
    if passphrase != again:
        text = _("The two passphrases are not the same. Type the second one again.")
        raise SealProblem("again", text)
    work.step(1, _STEPS, _("making the key"))
    data = make_key(owner, passphrase, now)
    work.step(2, _STEPS, _("opening it once with the passphrase"))
    return _keep(folder, open_key(data, passphrase), now, work)


def take(
    folder: Path, file: Path, passphrase: str, now: datetime, work: LongWork | None = None
) -> Certified:
    """Take over the key of a certificate file; the file itself stays as it is.

    Raises SealProblem for a file that is none, a wrong passphrase, and a certificate that ran out.
    `work` given up in time keeps no key.
    """
    from deskapp.report.sealing.keys import open_key

    work = work or LongWork()
    work.step(1, _STEPS, _("reading {file}").format(file=file.name))
    try:
        data = file.read_bytes() if file.stat().st_size <= _LARGEST else b""
    except OSError as error:
        text = _("{file} cannot be read ({why}).")
        why = error.strerror or type(error).__name__
        raise SealProblem("read", text.format(file=file.name, why=why)) from error
    work.step(2, _STEPS, _("opening it with the passphrase"))
    key = open_key(data, passphrase)
    if now > key.valid_until:
        raise _ran_out(key)
    return _keep(folder, key, now, work)


def open_kept(folder: Path, passphrase: str) -> SigningKey:
    """Open the kept key. Raises SealProblem without one, and for a wrong passphrase."""
    from deskapp.report.sealing.keys import open_key

    try:
        data = (folder / KEY_FILE).read_bytes()
    except OSError as error:
        text = _("There is no signing key any more. Make or take one: Company, Your signing key.")
        raise SealProblem("no-key", text) from error
    return open_key(data, passphrase)


def remove(folder: Path, now: datetime) -> Path:
    """Put the key out of use and return the name it is kept under from now on.

    Nothing is destroyed: reports signed with it are still checked by what they carry themselves.
    Raises SealProblem where that cannot be done.
    """
    name = f"signing-key-until-{now:%Y%m%d-%H%M%S}"
    aside = folder / f"{name}.p12"
    try:
        (folder / KEY_FILE).rename(aside)
        with suppress(FileNotFoundError):
            (folder / CERTIFICATE_FILE).rename(folder / f"{name}.cer")
    except OSError as error:
        raise _not_written(folder / KEY_FILE, error) from error
    return aside


def facts(key: Certified, formatter: Formatter, now: datetime) -> tuple[tuple[str, str], ...]:
    """Return label and words of what there is to know about a key."""
    until = formatter.day(key.valid_until.date())
    if now > key.valid_until:
        until = _("{day}: it ran out, so nothing can be signed with it").format(day=until)
    return (
        (_("Names"), key.owner),
        (_("Vouched for by"), key.voucher or _("nobody else: the key was made by its owner")),
        (_("May sign until"), until),
        (_("Mark of the key"), key.key_mark),
    )


def worth(key: Certified | None) -> str:
    """Return what a signature with this key, or with one made here, proves and what not."""
    if key is not None and not key.is_self_made:
        return _(
            "A signature with it proves that the report is unchanged; {voucher} vouches that it "
            "belongs to {owner}."
        ).format(voucher=key.voucher, owner=key.owner)
    return _(
        "A key made here proves that a report is unchanged and that the same key signed it. It "
        "does not prove who signed: tell your customers the mark of the key by another way, such "
        "as your website or on the telephone, and they can compare it."
    )


def _ran_out(key: Certified) -> SealProblem:
    text = _("The certificate of {owner} ran out on {day}. Renew it, or make a new key.")
    day = day_in_words(key.valid_until.date())
    return SealProblem("ran-out", text.format(owner=key.owner, day=day))


def _keep(folder: Path, key: SigningKey, now: datetime, work: LongWork) -> Certified:
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_whole

    work.step(3, _STEPS, _("keeping the key"))
    work.settle()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        if (folder / KEY_FILE).exists():
            remove(folder, now)
        write_whole(folder / CERTIFICATE_FILE, key.certificate)
        write_whole(folder / KEY_FILE, key.data, private=True)
    except JobFileProblem as problem:
        raise SealProblem("write", problem.text) from problem
    except OSError as error:
        raise _not_written(folder / KEY_FILE, error) from error
    return key


def _not_written(path: Path, error: OSError) -> SealProblem:
    from deskapp.archive.safe_write import write_problem

    return SealProblem("write", write_problem(path, error).text)
