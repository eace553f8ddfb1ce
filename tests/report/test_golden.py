"""Whole reports as data, compared with the files in golden/.

What was worked out from each job is kept there as well, so that these files change only when a
report does. To write all of them anew after a wanted change, run once with WRITE_GOLDEN_REPORTS=1
in the environment and look at the difference before keeping it. Such a run never passes, so the
switch cannot be left on.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from block_json import as_data
from report_jobs import SI, report_input, retrofit, rough_in, with_leaks

from deskapp.assess.evaluate import evaluate
from deskapp.domain.job import Job
from deskapp.domain.result import Assessment
from deskapp.report.blocks import Paper
from deskapp.report.build.document import build

GOLDEN = Path(__file__).parent / "golden"
SWITCH = "WRITE_GOLDEN_REPORTS"


def cases() -> dict[str, tuple[Job, dict[str, object]]]:
    job, photos = retrofit()
    for digest in list(photos):
        photos[digest] = b""
    return {
        "rough_in": (rough_in(), {}),
        "rough_in_retested_metric": (
            rough_in(retested=True),
            {"formatter": SI, "paper": Paper.A4},
        ),
        "retrofit": (job, {"photos": photos}),
        "no_leaks": (with_leaks(0), {}),
        "forty_leaks": (with_leaks(40), {}),
        "empty": (Job(), {}),
    }


def kept(name: str, job: Job) -> Assessment:
    """What was worked out from the job when the golden files were written."""
    path = GOLDEN / f"{name}_assessment.json"
    if os.environ.get(SWITCH):
        path.write_text(evaluate(job).model_dump_json(indent=1) + "\n", encoding="utf-8")
    return Assessment.model_validate_json(path.read_text(encoding="utf-8"))


@pytest.mark.parametrize("kind", ["homeowner", "compliance", "technical", "retest"])
@pytest.mark.parametrize("name", list(cases()))
def test_that_a_report_holds_the_blocks_it_held_before(name, kind, request):
    template = request.getfixturevalue(kind)
    job, given = cases()[name]
    document = as_data(build(template, report_input(job, assessment=kept(name, job), **given)))
    text = json.dumps(document, indent=1, ensure_ascii=False) + "\n"
    path = GOLDEN / f"{name}_{kind}.json"
    if os.environ.get(SWITCH):
        path.write_text(text, encoding="utf-8")
        pytest.fail(f"{path.name} was written anew; run again without {SWITCH}")
    assert json.loads(path.read_text(encoding="utf-8")) == json.loads(text)
