"""Which reports there are, what each is for and who reads it; loads nothing big."""

from __future__ import annotations

from enum import StrEnum

from deskapp.i18n import N_


class ReportKind(StrEnum):
    """The reports; the value is the id of the template."""

    HOMEOWNER = "homeowner"
    COMPLIANCE = "compliance"
    TECHNICAL = "technical"
    RETEST = "retest"


KIND_WORDS = {
    ReportKind.HOMEOWNER: N_("Homeowner report"),
    ReportKind.COMPLIANCE: N_("Compliance report"),
    ReportKind.TECHNICAL: N_("Technical record"),
    ReportKind.RETEST: N_("Retest report"),
}
KIND_PURPOSES = {
    ReportKind.HOMEOWNER: N_("The answer in plain words, for the people who live there."),
    ReportKind.COMPLIANCE: N_(
        "A certificate to sign and its annex, for code officials and rebate programs."
    ),
    ReportKind.TECHNICAL: N_("Every figure with its source, for whoever checks the work."),
    ReportKind.RETEST: N_("Before and after the work side by side, for owners and programs."),
}
SAVE_WORDS = {
    ReportKind.HOMEOWNER: N_("Save the &homeowner report…"),
    ReportKind.COMPLIANCE: N_("Save the &compliance report…"),
    ReportKind.TECHNICAL: N_("Save the &technical record…"),
    ReportKind.RETEST: N_("Save the &retest report…"),
}
ISSUE_WORDS = {
    ReportKind.HOMEOWNER: N_("Issue the &homeowner report…"),
    ReportKind.COMPLIANCE: N_("Issue the &compliance report…"),
    ReportKind.TECHNICAL: N_("Issue the &technical record…"),
    ReportKind.RETEST: N_("Issue the &retest report…"),
}
"""The commands, each with its key of access."""


class Naming(StrEnum):
    """What comes before the kind of report in the name of its file."""

    JOB = "job"
    ADDRESS = "address"
    BOTH = "both"
    FILE = "file"


NAMING_WORDS = {
    Naming.JOB: N_("Job number, or else its name"),
    Naming.ADDRESS: N_("Address"),
    Naming.BOTH: N_("Job number and address"),
    Naming.FILE: N_("Name of the job's file"),
}
