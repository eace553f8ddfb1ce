"""Whole reports as data, compared with the files in golden/.

To write the files anew after a wanted change, run once with WRITE_GOLDEN_REPORTS=1 in the
environment and look at the difference before keeping it. Such a run never passes, so the switch
cannot be left on.
"""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from block_json import as_data
from report_jobs import SI, report_input, retrofit, rough_in, with_leaks

from deskapp.domain.job import Job
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


@pytest.mark.parametrize("kind", ["homeowner", "compliance"])
@pytest.mark.parametrize("name", list(cases()))
def test_that_a_report_holds_the_blocks_it_held_before(name, kind, request):
    template = request.getfixturevalue(kind)
    job, given = cases()[name]
    document = as_data(build(template, report_input(job, **given)))
    text = json.dumps(document, indent=1, ensure_ascii=False) + "\n"
    path = GOLDEN / f"{name}_{kind}.json"
    if os.environ.get(SWITCH):
        path.write_text(text, encoding="utf-8")
        pytest.fail(f"{path.name} was written anew; run again without {SWITCH}")
    assert json.loads(path.read_text(encoding="utf-8")) == json.loads(text)
