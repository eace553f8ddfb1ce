"""A test that contradicts the row it is judged by: each gives a finding that leads to its field.

Everything is typed as in the window. The job is invented; the editions are those of the shelf.
"""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from deskapp.domain.data_files import resources_folder
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import field_at
from deskapp.domain.finding import Finding
from deskapp.domain.job import Job
from deskapp.domain.result import Verdict
from deskapp.limits import catalogue
from deskapp.session.editor import Editor
from deskapp.session.pages import page_of
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences

SOUND = {
    "house.floor_area": "2,000 ft2",
    "systems.0.name": "System 1",
    "systems.0.area_served": "2,000 ft2",
    "systems.0.work": "new",
    "systems.0.air_handler_installed": "yes",
    "systems.0.air_handler_inside": "no",
    "systems.0.all_ducts_inside": "no",
    "systems.0.returns": "2",
    "systems.0.fan_flow": "1,200 cfm",
    "systems.0.fan_flow_method": "measured",
    "systems.0.duct_surface": "500 ft2",
    "tests.0.setup.stage": "rough_in",
    "tests.0.setup.metric": "total",
    "tests.0.setup.method": "single_pressure",
    "tests.0.setup.direction": "pressurize",
    "tests.0.setup.target_pressure": "25 Pa",
    "tests.0.setup.flow_basis": "as_indicated",
    "tests.0.baseline_before": "0",
    "tests.0.baseline_after": "0",
    "tests.0.readings.0.duct_pressure": "25",
    "tests.0.readings.0.indicated_flow": "50 cfm",
}


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return Shelf(catalogue=catalogue.load(resources_folder() / "limits"))


def type_in(editor: Editor, path: str, text: str) -> None:
    if field_at(path).form is Form.CHOICE:
        editor.choose(path, text or None)
    else:
        editor.enter(path, text)
        editor.end_step()


def sound(shelf: Shelf) -> Editor:
    editor = Editor(Job(), shelf, Preferences())
    for rows in ("systems", "tests", "tests.0.readings"):
        if not editor.row_count(rows):
            editor.add_row(rows)
    type_in(editor, "tests.0.system", editor.job.systems[0].key)
    for path, text in SOUND.items():
        type_in(editor, path, text)
    return editor


@dataclass(frozen=True)
class Case:
    """What is judged by, what is changed from the sound job, and the finding that must come."""

    edition: str
    row: str
    changes: dict[str, str]
    code: str
    path: str
    verdict: Verdict = Verdict.NONE


STAGE, METRIC = "tests.0.setup.stage", "tests.0.setup.metric"
TARGET, FIRST = "tests.0.setup.target_pressure", "tests.0.readings.0.duct_pressure"
HANDLER, INSIDE = "systems.0.air_handler_installed", "systems.0.all_ducts_inside"
WITH_HANDLER = "rough-in-with-air-handler"

CASES = {
    "stage, row by hand": Case(
        "iecc-2018", WITH_HANDLER, {STAGE: "final"}, "row_against_facts", STAGE, Verdict.PASS
    ),
    "stage, no row for it": Case("iecc-2018", "", {STAGE: "after_repair"}, "not_decided", STAGE),
    "stage not answered": Case("iecc-2018", "", {STAGE: ""}, "not_decided", STAGE),
    "air handler out, row by hand": Case(
        "iecc-2018", WITH_HANDLER, {HANDLER: "no"}, "row_against_facts", HANDLER, Verdict.PASS
    ),
    "air handler not answered": Case("iecc-2018", "", {HANDLER: ""}, "not_decided", HANDLER),
    "air handler out, no row for it": Case(
        "energy-star-homes-3-2", "", {HANDLER: "no"}, "not_decided", HANDLER
    ),
    "air handler out of a final test": Case(
        "iecc-2018",
        "",
        {STAGE: "final", HANDLER: "no"},
        "final_without_air_handler",
        STAGE,
        Verdict.PASS,
    ),
    "pressure": Case("iecc-2018", "", {TARGET: "50 Pa", FIRST: "50"}, "not_decided", TARGET),
    "to outside, row by hand for the total": Case(
        "iecc-2018", WITH_HANDLER, {METRIC: "outside"}, "not_decided", METRIC
    ),
    "to outside, no row for it": Case("iecc-2018", "", {METRIC: "outside"}, "not_decided", METRIC),
    "measure not answered": Case("iecc-2018", "", {METRIC: ""}, "not_decided", METRIC),
    "existing ducts, row by hand for new ones": Case(
        "california-2022-single-family",
        "new-rough-in-with-air-handler",
        {"systems.0.work": "existing"},
        "row_against_facts",
        "systems.0.work",
        Verdict.PASS,
    ),
    "base: no floor area": Case(
        "iecc-2018",
        "",
        {"systems.0.area_served": ""},
        "not_decided",
        "systems.0.area_served",
    ),
    "base: no air handler flow": Case(
        "california-2022-single-family",
        "",
        {"systems.0.fan_flow": ""},
        "not_decided",
        "systems.0.fan_flow",
    ),
    "base: no duct surface": Case(
        "mechanical-code-duct-surface",
        "",
        {"systems.0.duct_surface": ""},
        "not_decided",
        "systems.0.duct_surface",
    ),
    "base: no first test to be less than": Case(
        "california-2008",
        "altered-reduction",
        {STAGE: "after_repair", "systems.0.work": "altered"},
        "not_decided",
        "tests.0.retest_of",
    ),
    "ducts inside, row by hand for ducts outside": Case(
        "iecc-2021",
        WITH_HANDLER,
        {INSIDE: "yes", "systems.0.air_handler_inside": "yes"},
        "row_against_facts",
        INSIDE,
        Verdict.PASS,
    ),
    "ducts inside, air handler not": Case("iecc-2021", "", {INSIDE: "yes"}, "not_decided", INSIDE),
    "returns, row by hand for more of them": Case(
        "energy-star-homes-3-2",
        "rough-in-3-returns",
        {},
        "row_against_facts",
        "systems.0.returns",
        Verdict.PASS,
    ),
    "returns not answered": Case(
        "energy-star-homes-3-2", "", {"systems.0.returns": ""}, "not_decided", "systems.0.returns"
    ),
    "area, row by hand for a small system": Case(
        "iecc-2024",
        "all-installed-small",
        {},
        "row_against_facts",
        "systems.0.area_served",
        Verdict.FAIL,
    ),
    "several rows fit": Case("smacna-2012", "", {}, "not_decided", "compliance.limits"),
    "one pressure said, several read": Case(
        "iecc-2018",
        "",
        {
            "tests.0.readings.1.duct_pressure": "40",
            "tests.0.readings.1.indicated_flow": "66 cfm",
            "tests.0.readings.2.duct_pressure": "15",
            "tests.0.readings.2.indicated_flow": "37 cfm",
        },
        "several_pressures_read",
        "tests.0.setup.method",
        Verdict.PASS,
    ),
    "several pressures said, one read": Case(
        "iecc-2018",
        "",
        {"tests.0.setup.method": "several_pressures"},
        "curve_too_few_points",
        FIRST,
    ),
    "one side of the ducts": Case(
        "iecc-2018",
        "",
        {"tests.0.setup.part": "supply"},
        "one_side_only",
        "tests.0.setup.part",
    ),
}


@pytest.mark.parametrize("name", CASES)
def test_that_a_contradiction_gives_a_finding_that_leads_to_its_field(
    name: str, shelf: Shelf
) -> None:
    case = CASES[name]
    editor = sound(shelf)
    editor.choose_limit(case.edition, case.row)
    for path, text in case.changes.items():
        row = path.rsplit(".", 1)[0]
        if ".readings." in path and not _is_there(editor, row):
            editor.add_row("tests.0.readings")
        type_in(editor, path, text)
    told = _told(editor, case.code)
    assert [one.path for one in told] == [case.path]
    assert field_or_list(case.path)
    assert page_of(case.path)
    assert editor.assessment.verdict is case.verdict


def _told(editor: Editor, code: str) -> list[Finding]:
    return [finding for finding in editor.findings if finding.code == code]


def _is_there(editor: Editor, row: str) -> bool:
    return int(row.rsplit(".", 1)[1]) < editor.row_count(row.rsplit(".", 1)[0])


def field_or_list(path: str) -> bool:
    if path == "compliance.limits":
        return True
    return bool(field_at(path).label)


@pytest.mark.parametrize("edition", ["iecc-2018", "iecc-2021", "iecc-2024", "georgia-2011"])
def test_that_the_sound_job_contradicts_nothing(edition: str, shelf: Shelf) -> None:
    editor = sound(shelf)
    editor.choose_limit(edition)
    codes = {one.code for one in editor.findings}
    assert codes.isdisjoint({case.code for case in CASES.values()})
    assert editor.assessment.verdict is Verdict.PASS
