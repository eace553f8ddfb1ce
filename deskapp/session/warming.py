"""Loads ahead what somebody would otherwise wait for."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.session.opening import new_job

if TYPE_CHECKING:
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences


def load_reports(shelf: Shelf, preferences: Preferences) -> None:
    """Load what makes reports, and read their templates: the page of the report asks for all."""
    from datetime import date

    from deskapp.session.branding import BrandingFile
    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.reports import gaps_for, order_reports

    order = order_reports(new_job(shelf, preferences), BrandingFile(), date.today())
    gaps_for(ReportKind.COMPLIANCE, order)


def warm_up() -> None:
    """Do the loading that the first typed quantity would otherwise wait for."""
    from deskapp.assess.evaluate import evaluate
    from deskapp.domain.job import Job
    from deskapp.units.entry import parse
    from deskapp.units.kinds import Kind
    from deskapp.units.numbers import NumberStyle

    parse("1 cfm", Kind.FLOW, "cfm", NumberStyle.POINT)
    evaluate(Job())
