"""What one user prefers, kept in a small file between sessions."""

from __future__ import annotations

import json
from enum import StrEnum
from pathlib import Path
from typing import cast

from pydantic import Field, JsonValue, ValidationError
from pydantic.config import JsonDict

from deskapp.domain.base import Frozen
from deskapp.domain.finding import Finding, Level
from deskapp.i18n import LANGUAGES, N_, _
from deskapp.report.blocks import Paper as Paper
from deskapp.session.first_look import FILE_NAME, most_recent
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle


class Language(StrEnum):
    """A language to choose; `DEFAULT` leaves the choice to what the field says."""

    DEFAULT = ""
    ENGLISH = "en"
    SPANISH = "es"
    FRENCH = "fr_CA"


LANGUAGE_LABELS = {Language.DEFAULT.value: N_("As the system")} | LANGUAGES
REPORT_LANGUAGE_LABELS = {Language.DEFAULT.value: N_("As the program")} | LANGUAGES
"""Words for the choices of a language, by value; the languages go by their own names."""


WRITING = N_("Units and words")
FILES = N_("Files and memory")
PHOTOS = N_("Photos")
"""Sections of the dialog of preferences, in its order."""


def _shown(section: str, words: dict[str, str] | None = None, **more: JsonValue) -> JsonDict:
    """Say where a preference is shown: its section, the words for its values; none if empty."""
    return {"section": section, "words": dict[str, JsonValue](words or {}), **more}


def usual_folder() -> Path:
    """Return the folder for jobs where none was chosen: Ductfolio in the documents."""
    from platformdirs import user_documents_path

    return user_documents_path() / "Ductfolio"


class Preferences(Frozen):
    """What one user prefers.

    The dialog of preferences is made from these fields: title, description, and in the extra data
    the section and the words for each value (see `deskapp.session.preference_form`).
    """

    unit_system: UnitSystem = Field(
        default=UnitSystem.IP,
        title=N_("Units"),
        description=N_("Units shown, and meant where none is typed. No value changes."),
        json_schema_extra=_shown(
            WRITING, {"ip": N_("Inch-pound (ft², cfm)"), "si": N_("Metric (m², L/s)")}
        ),
    )
    number_style: NumberStyle = Field(
        default=NumberStyle.POINT,
        title=N_("Numbers"),
        description=N_("How decimals and thousands are written and read."),
        json_schema_extra=_shown(
            WRITING,
            {"point": N_("Decimal point: 1,234.5"), "comma": N_("Decimal comma: 1 234,5")},
        ),
    )
    paper: Paper = Field(
        default=Paper.LETTER,
        title=N_("Paper"),
        description=N_("Paper size of the reports."),
        json_schema_extra=_shown(WRITING, {"letter": N_("Letter"), "a4": N_("A4")}),
    )
    language: Language = Field(
        default=Language.DEFAULT,
        title=N_("Language"),
        description=N_("Language of the program. Jobs and what is typed stay as they are."),
        json_schema_extra=_shown(WRITING, LANGUAGE_LABELS),
    )
    report_language: Language = Field(
        default=Language.DEFAULT,
        title=N_("Language of the reports"),
        description=N_("Language of the reports; the program's if none is chosen."),
        json_schema_extra=_shown(WRITING, REPORT_LANGUAGE_LABELS),
    )
    jobs_folder: str = Field(
        default="",
        max_length=1000,
        title=N_("Folder of the jobs"),
        description=N_(
            "Where jobs are looked for and saved; Ductfolio in your documents if empty."
        ),
        json_schema_extra=_shown(FILES, folder=True),
    )
    more_job_folders: str = Field(
        default="",
        max_length=4000,
        title=N_("More folders of jobs"),
        description=N_(
            "Listed too, such as a share of the office; several with a semicolon (;) between them. "
            "New jobs go into the folder above."
        ),
        json_schema_extra=_shown(FILES),
    )
    keep_original_photos: bool = Field(
        default=False,
        title=N_("Keep original files of photos"),
        description=N_(
            "The file of each photo is kept in the job beside the small copy, with all that is "
            "hidden in it, such as the place."
        ),
        json_schema_extra=_shown(PHOTOS),
    )
    keep_photo_place: bool = Field(
        default=False,
        title=N_("Keep where photos were taken"),
        description=N_("Kept in the job if the photo tells; never printed."),
        json_schema_extra=_shown(PHOTOS),
    )
    photo_slate: bool = Field(
        default=False,
        title=N_("Strip below photos"),
        description=N_("Job number, time and system below each photo in the reports."),
        json_schema_extra=_shown(PHOTOS),
    )
    offer_entries: bool = Field(
        default=True,
        title=N_("Offer entries of earlier jobs"),
        description=N_(
            "While you type places, builders, instruments or testers. Kept on this computer only; "
            "owners' names, phones and mail addresses are not kept."
        ),
        json_schema_extra=_shown(FILES),
    )
    own_templates: dict[str, str] = Field(
        default_factory=dict[str, str],
        description=N_("The company's own template for each report, by its file name."),
        json_schema_extra=_shown(""),
    )
    guessed: tuple[str, ...] = Field(
        default=(),
        description=N_("What follows the system until somebody chooses it; never kept."),
        json_schema_extra=_shown(""),
    )
    recent: tuple[str, ...] = Field(
        default=(),
        description=N_("Job files opened or saved last, newest first."),
        json_schema_extra=_shown(""),
    )

    @property
    def formatter(self) -> Formatter:
        """What writes quantities and days in these units and this style."""
        return Formatter(self.unit_system, self.number_style)

    @property
    def jobs_path(self) -> Path:
        """The folder for jobs, by default Ductfolio in the documents; it need not be there yet."""
        if self.jobs_folder.strip():
            return Path(self.jobs_folder.strip()).expanduser()
        return usual_folder()

    @property
    def job_folders(self) -> tuple[Path, ...]:
        """All folders whose jobs are listed; new ones go into the first."""
        typed = (text.strip() for text in self.more_job_folders.split(";"))
        more = (Path(text).expanduser() for text in typed if text)
        return tuple(dict.fromkeys((self.jobs_path, *more)))

    def with_recent(self, path: Path) -> Preferences:
        """Return preferences with `path` as the job file used last, wherever one works later."""
        return self.model_copy(update={"recent": most_recent((str(path.absolute()), *self.recent))})

    def without_recent(self, path: Path | None = None) -> Preferences:
        """Return preferences that no longer list `path`, or list no job file at all."""
        kept = (
            ()
            if path is None
            else tuple(name for name in self.recent if name != str(path.absolute()))
        )
        return self.model_copy(update={"recent": kept})

    def with_choice(self, name: str, value: object) -> Preferences:
        """Return preferences with `value` chosen under `name`; from now on it is not guessed."""
        guessed = tuple(one for one in self.guessed if one != name)
        return self.model_copy(update={name: value, "guessed": guessed})


def load(folder: Path, first: Preferences) -> tuple[Preferences, tuple[Finding, ...]]:
    """Read the preferences kept in `folder`; `first` stands in for what is not kept there.

    What `first` guessed and nobody has chosen is not kept, and so follows the system.
    Entries this version does not know are passed over, since a later version may have written
    them. A damaged file or entry never keeps the program from starting: it earns a finding.
    """
    try:
        text = (folder / FILE_NAME).read_text(encoding="utf-8")
        data: object = json.loads(text)
    except FileNotFoundError:
        return first, ()
    except (OSError, ValueError, RecursionError):
        return first, (_damaged(),)
    if not isinstance(data, dict):
        return first, (_damaged(),)
    return _read(cast("dict[str, object]", data), first)


def _read(data: dict[str, object], first: Preferences) -> tuple[Preferences, tuple[Finding, ...]]:
    preferences = first
    findings: list[Finding] = []
    for name in (Preferences.model_fields.keys() & data.keys()) - {"guessed"}:
        try:
            one = Preferences.model_validate_json(json.dumps({name: data[name]}))
        except ValidationError:
            findings.append(_unknown(name, data[name]))
        else:
            preferences = preferences.with_choice(name, getattr(one, name))
    recent = most_recent(preferences.recent)
    return preferences.model_copy(update={"recent": recent}), tuple(findings)


def save(folder: Path, preferences: Preferences) -> Finding | None:
    """Keep the preferences in `folder`, made if need be; return why not if that does not work."""
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_problem, write_whole

    path = folder / FILE_NAME
    left_out = {"guessed", *preferences.guessed}
    text = preferences.model_dump_json(indent=2, exclude=left_out) + "\n"
    try:
        folder.mkdir(parents=True, exist_ok=True)
        write_whole(path, text.encode("utf-8"))
    except JobFileProblem as problem:
        return _not_kept(problem.text)
    except OSError as error:
        return _not_kept(write_problem(path, error).text)
    return None


def _damaged() -> Finding:
    return Finding(
        level=Level.NOTE,
        code="preferences-damaged",
        what=_("The file with your preferences ({file}) cannot be read.").format(file=FILE_NAME),
        mend=_("Set units and paper once more in the preferences; that writes it anew."),
    )


def _unknown(name: str, value: object) -> Finding:
    return Finding(
        level=Level.NOTE,
        code="preference-unknown",
        what=_("The preference {name} holds “{value}”, which is not known here.").format(
            name=name, value=str(value)[:40]
        ),
        mend=_("Choose it once more in the preferences."),
    )


def _not_kept(why: str) -> Finding:
    return Finding(
        level=Level.NOTE,
        code="preferences-not-kept",
        what=_("Your preferences hold for now, but could not be kept. {why}").format(why=why),
        mend=_("Give the program a folder it may write to."),
    )
