"""Taking up and keeping the company's own templates."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.session.own_templates import chosen, file_for
from deskapp.session.report_kinds import ReportKind
from deskapp.session.template_draft import TemplateDraft, draft_of, text_of

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences


def draft_in_use(
    folder: Path, preferences: Preferences, shelf: Shelf, kind: ReportKind
) -> TemplateDraft:
    """Return a draft of the company's template for a report, of ours where there is none to use.

    Raises TemplateProblem where ours cannot be read either.
    """
    from deskapp.report.template import TemplateProblem

    own = chosen(folder, preferences.own_templates).get(kind.value)
    if own is not None:
        # A file that cannot be used is told where the report is made; here one starts from ours.
        with suppress(TemplateProblem):
            draft = draft_of(own)
            if draft.kind == kind.value:
                return draft
    return draft_of(shelf.templates[kind.value])


def keep(folder: Path, preferences: Preferences, draft: TemplateDraft) -> Preferences | Finding:
    """Write a draft into the folder of templates; return preferences that use it, or why not."""
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_problem, write_whole
    from deskapp.report.template import TemplateProblem

    path = file_for(folder, ReportKind(draft.kind), draft.name)
    try:
        draft.checked()
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, text_of(draft))
    except (TemplateProblem, JobFileProblem) as problem:
        return _not_kept(problem.text)
    except OSError as error:
        return _not_kept(write_problem(path, error).text)
    names = {**preferences.own_templates, draft.kind: path.name}
    return preferences.model_copy(update={"own_templates": names})


def _not_kept(why: str) -> Finding:
    return Finding(level=Level.CHECK, code="template-not-kept", what=why)
