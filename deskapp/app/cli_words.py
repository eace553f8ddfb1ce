"""The commands of the command line and their help."""

from __future__ import annotations

from argparse import ArgumentParser, RawDescriptionHelpFormatter
from collections.abc import Callable
from pathlib import Path

from deskapp.app.cli_exit import EXIT_WORDS
from deskapp.i18n import LANGUAGES, _
from deskapp.session.report_kinds import Naming

COMMANDS = ("report", "batch", "verdict", "photos", "check", "limits", "samples")
HELP = ("-h", "--help")
VERSION = "--version"

_AddCommand = Callable[..., ArgumentParser]


def window_parser() -> ArgumentParser:
    """Return the parser of the command line without a command: a job file to open, or none."""
    parser = ArgumentParser(prog="ductfolio", usage=_usage(), add_help=False)
    parser.add_argument("file", nargs="?", type=Path)
    return parser


def command_parser() -> ArgumentParser:
    """Return the parser of the commands that need no window."""
    parser = ArgumentParser(
        prog="ductfolio",
        usage=_usage(),
        description=_(
            "Turns the readings of an air duct leakage test into a verdict and its reports.\n"
            "Without a command it opens the window, with the job FILE if one is named."
        ),
        epilog=_exit_codes(),
        formatter_class=RawDescriptionHelpFormatter,
    )
    parser.add_argument(VERSION, action="store_true", help=_("print the version"))
    commands = parser.add_subparsers(
        dest="command", metavar="COMMAND", required=True, title=_("commands"), prog="ductfolio"
    )
    _add_report(commands.add_parser)
    _add_batch(commands.add_parser)
    _add_verdict(commands.add_parser)
    _add_photos(commands.add_parser)
    _add_check(commands.add_parser)
    _add_limits(commands.add_parser)
    _add_samples(commands.add_parser)
    return parser


def _usage() -> str:
    lines = (
        "[FILE]",
        "report JOB ...",
        "batch FOLDER",
        "verdict JOB ...",
        "photos JOB",
        "check REPORT ...",
        "limits [EDITION]",
        "samples",
    )
    return "\n       ".join(f"ductfolio {line}" for line in lines)


def _exit_codes() -> str:
    lines = [f"  {code.value}  {_(words)}" for code, words in EXIT_WORDS.items()]
    several = _("Of several job files each is worked on, and the highest code counts.")
    return "\n".join((_("exit codes:"), *lines, several))


def _job_words() -> str:
    return _("a job file (.ductjob), a folder that holds job.json, or a .json file")


def _add_report(add: _AddCommand) -> None:
    parser = add(
        "report",
        help=_("make the PDF reports of job files"),
        description=_("Make the PDF reports of job files and print where they are."),
        epilog=_exit_codes(),
        formatter_class=RawDescriptionHelpFormatter,
    )
    parser.add_argument("jobs", metavar="JOB", nargs="*", type=Path, help=_job_words())
    parser.add_argument(
        "--sample",
        metavar="ID",
        nargs="?",
        const="",
        help=_("make the reports of a sample job; of the default one without ID"),
    )
    _add_making(parser)


def _add_batch(add: _AddCommand) -> None:
    parser = add(
        "batch",
        help=_("make the PDF reports of all jobs in a folder"),
        description=_(
            "Make the PDF reports of all job files (.ductjob) in a folder and below, and sum up "
            "what went wrong. A job that cannot be read does not stop the others."
        ),
        epilog=_exit_codes(),
        formatter_class=RawDescriptionHelpFormatter,
    )
    parser.add_argument("folder", metavar="FOLDER", type=Path, help=_("a folder with job files"))
    parser.add_argument(
        "--workers",
        metavar="N",
        type=int,
        default=2,
        help=_("processes that work at the same time (default: 2)"),
    )
    parser.add_argument("--json", action="store_true", help=_("print data for other programs"))
    _add_making(parser)


def _add_making(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--kind",
        choices=("homeowner", "compliance", "technical", "retest", "both", "all"),
        default="both",
        help=_("which report; both makes the first two (default: both)"),
    )
    parser.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        default=Path(),
        help=_("folder for the PDF files, made if need be (default: where you are)"),
    )
    parser.add_argument(
        "--names",
        choices=tuple(Naming),
        default=Naming.JOB.value,
        help=_(
            "what files are called: job number, address, both, or the name of the job's file "
            "(default: job)"
        ),
    )
    parser.add_argument(
        "--replace",
        action="store_true",
        help=_(
            "write over files of the same names; without it only over drafts of the same job. An "
            "issued report is never written over"
        ),
    )
    _add_issue(parser)
    parser.add_argument(
        "--branding", metavar="FILE", type=Path, help=_("branding file with company and logo")
    )
    _add_units(parser)
    parser.add_argument(
        "--paper", choices=("letter", "a4"), help=_("paper (default: your preference)")
    )
    parser.add_argument(
        "--language",
        choices=tuple(LANGUAGES),
        help=_("language of the reports (default: your preference)"),
    )


def _add_issue(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--issue",
        action="store_true",
        help=_(
            "hand the reports out: each gets the number of the job, the day, a mark and the next "
            "number of its issue, and the job file holds the record; of a job that has not changed "
            "since, only a further paper in another language or signed"
        ),
    )
    parser.add_argument(
        "--by", metavar="NAME", help=_("who issues them (default: the tester of each job)")
    )
    parser.add_argument(
        "--reason", metavar="TEXT", help=_("why, needed where a report was issued before")
    )
    parser.add_argument(
        "--sign",
        action="store_true",
        help=_(
            "sign them with your signing key; its passphrase is asked for, or read from the first "
            "line of the standard input"
        ),
    )


def _add_verdict(add: _AddCommand) -> None:
    parser = add(
        "verdict",
        help=_("print the verdict of job files"),
        description=_("Print the verdict of job files with its arithmetic."),
        epilog=_exit_codes(),
        formatter_class=RawDescriptionHelpFormatter,
    )
    parser.add_argument("jobs", metavar="JOB", nargs="+", type=Path, help=_job_words())
    parser.add_argument(
        "--json", action="store_true", help=_("print data for other programs, numbers unrounded")
    )
    _add_units(parser)


def _add_photos(add: _AddCommand) -> None:
    parser = add(
        "photos",
        help=_("export the photos of a job, with what is drawn on them"),
        description=_(
            "Write the photos of a job into a folder as JPEG files, with what is drawn on them, "
            "and a list with captions, times and digests. The strip below photos follows your "
            "preference."
        ),
        epilog=_exit_codes(),
        formatter_class=RawDescriptionHelpFormatter,
    )
    parser.add_argument("job", metavar="JOB", type=Path, help=_job_words())
    parser.add_argument(
        "--out",
        metavar="DIR",
        type=Path,
        required=True,
        help=_("folder for the photos, made if need be"),
    )
    parser.add_argument(
        "--replace", action="store_true", help=_("write over files of the same names")
    )


def _add_check(add: _AddCommand) -> None:
    parser = add(
        "check",
        help=_("check whether reports are what they say"),
        description=_(
            "Check reports: their signatures, the job inside, and the printed results against "
            "that job. Nothing is asked on the internet."
        ),
        epilog=_exit_codes(),
        formatter_class=RawDescriptionHelpFormatter,
    )
    parser.add_argument(
        "reports", metavar="REPORT", nargs="+", type=Path, help=_("a report (.pdf)")
    )
    parser.add_argument("--json", action="store_true", help=_("print data for other programs"))


def _add_units(parser: ArgumentParser) -> None:
    parser.add_argument(
        "--units",
        choices=("ip", "si"),
        help=_(
            "units shown: ip for feet and cfm, si for meters and L/s (default: your preference)"
        ),
    )


def _add_limits(add: _AddCommand) -> None:
    parser = add(
        "limits",
        help=_("list the codes and programs a job can be judged by"),
        description=_("List the editions of codes and programs, or all limits of one of them."),
    )
    parser.add_argument("edition", metavar="EDITION", nargs="?", help=_("id of an edition"))
    parser.add_argument("--json", action="store_true", help=_("print data for other programs"))


def _add_samples(add: _AddCommand) -> None:
    parser = add(
        "samples",
        help=_("list the sample jobs"),
        description=_("List the invented sample jobs, or copy them as job files of your own."),
    )
    parser.add_argument(
        "--copy-to", metavar="DIR", type=Path, help=_("folder to write them to, made if need be")
    )
