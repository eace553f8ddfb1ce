"""Problems told to a person, in the language in use and in another process."""

from __future__ import annotations

import pickle

import pytest

from deskapp.archive.problems import JobFileProblem
from deskapp.domain.finding import Finding, Level
from deskapp.domain.told_problem import ToldProblem
from deskapp.i18n import _, speaking
from deskapp.limits.sampling import SamplingProblem
from deskapp.report.sealing.problems import SealProblem
from deskapp.session.photo_export import PhotoExportProblem
from deskapp.session.reports import ReportProblem

STOP = Finding(level=Level.STOP, code="unread", what="Not read.")


@pytest.mark.parametrize(
    "problem",
    [
        JobFileProblem("no-name", lambda: "Words made late."),
        SealProblem("passphrase", "A wrong one."),
        SamplingProblem("no-draw", "Nothing to draw."),
        PhotoExportProblem("none", "No photos."),
        ReportProblem("stops", "Mend this first.", (STOP,)),
    ],
    ids=lambda one: type(one).__name__,
)
def test_that_a_problem_goes_to_another_process_whole(problem: ToldProblem):
    there = pickle.loads(pickle.dumps(problem))
    assert type(there) is type(problem)
    assert (there.code, there.text, str(there)) == (problem.code, problem.text, str(problem))
    assert getattr(there, "findings", ()) == getattr(problem, "findings", ())


def test_that_words_that_stand_for_a_while_follow_the_language():
    problem = JobFileProblem("no-name", lambda: _("Check"))
    english = problem.text
    with speaking("es"):
        assert problem.text == _("Check") != english
