"""What can go wrong with files, said in plain words."""

from __future__ import annotations

from deskapp.domain.told_problem import ToldProblem


class JobFileProblem(ToldProblem):
    """A job file cannot be read or written."""


class PhotoProblem(ToldProblem):
    """A picture cannot be taken in."""
