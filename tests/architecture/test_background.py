"""Each piece of work beside the window has a name in plain words, and what lasts is told."""

from __future__ import annotations

import ast
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2] / "deskapp"

LINE, WORDS, SILENT = "a line with its steps and a way to give it up", "words in place", "nothing"
"""How a person learns of it. Only what has always been short, or hinders nobody, is silent."""

WORK = {
    ("app/window.py", "Getting the program ready"): WORDS,
    ("ui/autosaver.py", "Writing a recovery copy"): SILENT,
    ("ui/instruments/earlier_card.py", "Looking for set-ups in other jobs"): WORDS,
    ("ui/issuing/check_dialog.py", "Checking the report"): LINE,
    ("ui/issuing/issue_dialog.py", "Comparing with the last issue"): WORDS,
    ("ui/issuing/issue_dialog.py", "Issuing the report"): LINE,
    ("ui/issuing/key_dialog.py", "Making the signing key"): LINE,
    ("ui/job_saver.py", "Saving the job"): LINE,
    ("ui/job_opener.py", "Reading the job"): LINE,
    ("ui/jobs/batch_run.py", "Making the reports"): LINE,
    ("ui/jobs/job_reader.py", "Reading the list of jobs"): LINE,
    ("ui/paper_card.py", "Making the papers"): LINE,
    ("ui/papers/mail_dialog.py", "Making the papers"): LINE,
    ("ui/papers/mail_papers.py", "Looking for issued papers"): WORDS,
    ("ui/papers/template_dialog.py", "Drawing the draft of a template"): WORDS,
    ("ui/live/gauge_card.py", "Reading a log"): WORDS,
    ("ui/live/import_dialog.py", "Making readings of a log"): WORDS,
    ("ui/live/source_form.py", "Looking for readers of other packages"): SILENT,
    ("ui/photos/canvas.py", "Reading the picture"): SILENT,
    ("ui/photos/export_bar.py", "Exporting the photos"): LINE,
    ("ui/photos/intake.py", "Taking in photos"): LINE,
    ("ui/preview.py", "Drawing the preview"): WORDS,
    ("ui/recaller.py", "Learning what to offer again"): SILENT,
}
WORKERS = {"Dispatcher", "Undertaking"}
SHOWN_FROM = {
    "ui/jobs/batch_run.py": "ui/jobs/reports_dialog.py",
    "ui/jobs/job_reader.py": "ui/jobs/jobs_dialog.py",
}
"""The file that shows the line, where it is not the one that does the work."""


@cache
def trees() -> tuple[tuple[str, ast.Module], ...]:
    """Return the syntax tree of each file, read once for all checks."""
    files = sorted(ROOT.rglob("*.py"))
    return tuple(
        (file.relative_to(ROOT).as_posix(), ast.parse(file.read_text(encoding="utf-8")))
        for file in files
    )


def called(node: ast.AST) -> str:
    """Return the plain name of what is called."""
    return node.func.id if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) else ""


def text_of(node: ast.expr) -> str:
    """Return a text that is written out, also inside the mark of a word to translate."""
    if called(node) == "N_":
        assert isinstance(node, ast.Call)
        [node] = node.args
    return node.value if isinstance(node, ast.Constant) and isinstance(node.value, str) else ""


def test_that_every_piece_of_work_has_a_name_and_is_listed_here() -> None:
    found = {
        (name, text_of(node.args[0]) if node.args else "")
        for name, tree in trees()
        for node in ast.walk(tree)
        if isinstance(node, ast.Call) and called(node) in WORKERS
    }
    assert found == WORK.keys()


def test_that_nothing_else_begins_threads_for_the_window() -> None:
    threads = {"run_beside", "QThread", "QRunnable", "QThreadPool"}
    found = {
        name
        for name, tree in trees()
        for node in ast.walk(tree)
        if isinstance(node, ast.alias) and node.name in threads
    }
    assert found == {"app/window.py", "ui/progress.py", "ui/tasks.py"}


def test_that_what_is_told_by_a_line_has_one() -> None:
    lines = {
        name
        for name, tree in trees()
        if any(called(node) == "ProgressLine" for node in ast.walk(tree))
    }
    told = {SHOWN_FROM.get(name, name) for (name, _words), how in WORK.items() if how is LINE}
    assert told == lines


def test_that_names_say_what_is_being_done() -> None:
    """A plain present participle first: Reading, Making, Checking."""
    for _file, words in WORK:
        assert words.split()[0].endswith("ing"), words
