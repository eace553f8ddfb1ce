"""Makes the view of each page: most are their form, some hold something more."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen
    from deskapp.ui.pages.page import PageView


def load() -> None:
    """Load what the pages are made from, so that no first turn to a page waits for that."""
    from deskapp.ui.instruments import setup_page as setup_page
    from deskapp.ui.live import gauge_readings_page as gauge_readings_page
    from deskapp.ui.pages import (
        house_page as house_page,
    )
    from deskapp.ui.pages import (
        leaks_page as leaks_page,
    )
    from deskapp.ui.pages import (
        report_page as report_page,
    )
    from deskapp.ui.pages import (
        result_page as result_page,
    )
    from deskapp.ui.pages import (
        safety_pages as safety_pages,
    )


def make_page(
    page: Page, bridge: Bridge, chosen: Chosen, desk: Desk, go_to: Callable[[str], None]
) -> PageView:
    """Return the view of `page`; `go_to` turns to a field anywhere."""
    if page.id == "house":
        from deskapp.ui.pages.house_page import HousePage

        return HousePage(page, bridge, chosen)
    if page.id in ("safety", "leave"):
        from deskapp.ui.pages.safety_pages import LeavePage, SafetyPage

        return (SafetyPage if page.id == "safety" else LeavePage)(page, bridge, chosen)
    if page.id == "setup":
        from deskapp.ui.instruments.setup_page import SetupPage

        return SetupPage(page, bridge, chosen, desk)
    if page.id == "readings":
        from deskapp.ui.live.gauge_readings_page import GaugeReadingsPage

        return GaugeReadingsPage(page, bridge, chosen, desk.folder)
    if page.id == "result":
        from deskapp.ui.pages.result_page import ResultPage

        return ResultPage(page, bridge)
    if page.id == "leaks":
        from deskapp.ui.pages.leaks_page import leaks_page

        return leaks_page(page, bridge, chosen, go_to)
    if page.id == "report":
        from deskapp.ui.pages.report_page import ReportPage

        return ReportPage(page, bridge, chosen, desk, go_to)
    return FormPage(page, bridge, chosen)
