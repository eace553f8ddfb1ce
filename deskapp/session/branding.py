"""The company's own look of printed reports: a small file with the logo beside it."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from pydantic import ValidationError

from deskapp.domain.branding import Branding
from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _

FILE_NAME = "branding.json"

_COLOR = re.compile(r"#[0-9a-fA-F]{6}")
_DEFAULT = Branding()


@dataclass(frozen=True, slots=True)
class BrandingFile:
    """A branding as it was read; `logo` is the picture to print, None where there is none."""

    branding: Branding = _DEFAULT
    logo: Path | None = None
    findings: tuple[Finding, ...] = ()

    @property
    def logo_bytes(self) -> bytes | None:
        """The file of the logo; None where there is none, or it can no longer be read."""
        try:
            return None if self.logo is None else self.logo.read_bytes()
        except OSError:
            return None


def load(path: Path) -> BrandingFile:
    """Read the branding file at `path`; without one, the plain look of the program.

    Whatever cannot be used earns a finding, and the plain look stands in for it.
    """
    try:
        data: object = json.loads(path.read_text(encoding="utf-8"))
    except FileNotFoundError:
        return BrandingFile()
    except (OSError, ValueError, RecursionError):
        return BrandingFile(findings=(_damaged(path),))
    if not isinstance(data, dict):
        return BrandingFile(findings=(_damaged(path),))
    branding, findings = _read(cast("dict[str, object]", data))
    logo, about_logo = _logo_beside(path, branding)
    return BrandingFile(branding, logo, (*findings, *about_logo))


def _read(data: dict[str, object]) -> tuple[Branding, list[Finding]]:
    branding = _DEFAULT
    findings: list[Finding] = []
    for name in Branding.model_fields.keys() & data.keys():
        try:
            one = Branding.model_validate({name: data[name]})
        except ValidationError:
            what = _("The branding file has no text under “{name}”.").format(name=name)
            findings.append(_finding(name, "branding-entry", what, _("Type it once more.")))
        else:
            branding = branding.model_copy(update={name: getattr(one, name)})
    about_color = color_finding(branding.accent)
    if about_color is not None:
        findings.append(about_color)
        branding = branding.model_copy(update={"accent": _DEFAULT.accent})
    return branding, findings


def color_finding(accent: str) -> Finding | None:
    """Return why `accent` is not a color reports can use, or None if it is."""
    if _COLOR.fullmatch(accent):
        return None
    return _finding(
        "accent",
        "color",
        _("Accent color: “{typed}” is not a color that can be read.").format(typed=accent[:40]),
        _("Type # and six digits or letters a to f, such as #1f5f7a."),
    )


def _logo_beside(path: Path, branding: Branding) -> tuple[Path | None, tuple[Finding, ...]]:
    if not branding.logo:
        return None, ()
    logo = path.parent / Path(branding.logo).name
    found = _ready_picture(logo)
    return (None, (found,)) if isinstance(found, Finding) else (logo, ())


def save(path: Path, branding: Branding, new_logo: Path | None = None) -> tuple[Finding, ...]:
    """Write the branding file at `path`; return what keeps it from being written, or nothing.

    Args:
        path: the branding file; its folder is made if need be.
        branding: what to write.
        new_logo: a picture to copy beside the file as the logo, made small and upright. Without
            it the logo named in `branding` stays.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_problem, write_whole

    about_color = color_finding(branding.accent)
    if about_color is not None:
        return (about_color,)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if new_logo is not None:
            picture = _ready_picture(new_logo)
            if isinstance(picture, Finding):
                return (picture,)
            name = "logo.png" if picture.startswith(b"\x89PNG") else "logo.jpg"
            write_whole(path.parent / name, picture)
            branding = branding.model_copy(update={"logo": name})
        write_whole(path, (branding.model_dump_json(indent=2) + "\n").encode("utf-8"))
    except JobFileProblem as problem:
        return (_finding("", problem.code, problem.text, ""),)
    except OSError as error:
        found = write_problem(path, error)
        return (_finding("", found.code, found.text, ""),)
    return ()


def _ready_picture(path: Path) -> bytes | Finding:
    """Return the picture at `path`, upright and small, or why it cannot be a logo."""
    from deskapp.archive.photo_files import take_in
    from deskapp.archive.problems import PhotoProblem

    mend = _("Choose a PNG or JPEG picture as the logo.")
    try:
        _photo, data = take_in(path.read_bytes(), path.name)
    except OSError as error:
        what = _("Logo: “{file}” cannot be opened ({why}).").format(
            file=path.name, why=error.strerror or type(error).__name__
        )
        return _finding("logo", "logo", what, mend)
    except PhotoProblem as problem:
        return _finding("logo", "logo", _("Logo: {why}").format(why=problem.text), mend)
    return data


def _damaged(path: Path) -> Finding:
    what = _("The branding file {file} cannot be read.").format(file=path.name)
    mend = _("Fill in the company page once more; that writes it anew.")
    return _finding("", "branding-damaged", what, mend)


def _finding(name: str, code: str, what: str, mend: str) -> Finding:
    path = f"branding.{name}" if name else "branding"
    return Finding(level=Level.CHECK, code=code, path=path, what=what, mend=mend)
