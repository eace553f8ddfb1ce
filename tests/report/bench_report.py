"""How long a report takes, warm: building aside, drawn, finished, and against a bare canvas.

Run it from the top of the source tree: ``PYTHONPATH=. python tests/report/bench_report.py``.
The goals: 150 ms for four pages with two photographs, and one and a half times a bare canvas that
draws the same pages (`replay`), without layout, tags and finishing. Beside it stands a canvas that
only puts the same words below each other and the pictures into a row. All are timed in turn, so
that whatever else the computer does falls on each alike.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from time import process_time

sys.path.insert(0, str(Path(__file__).parent))

from replay import replay_of
from report_jobs import ROOT, report_input, retrofit
from report_text import pages_of, texts_in
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from deskapp.domain.job import Job
from deskapp.report.blocks import Document
from deskapp.report.build.document import build
from deskapp.report.pdf.compose import compose
from deskapp.report.pdf.draw import draw
from deskapp.report.pdf.faces import load_faces
from deskapp.report.pdf.look import look_of
from deskapp.report.pdf.sheet import print_sheets
from deskapp.report.template import read_template

ROUNDS = 15
FONTS = ROOT / "resources" / "fonts"
KINDS = ("homeowner", "compliance", "technical")
MIXED = "Return plenum 回风静压箱 at the joint 接缝 No 7, sealed with mastic 密封胶 and tape; " * 40


def milliseconds(*works: Callable[[], object]) -> list[float]:
    """The median processor time of each work, taken in turn after one round to warm up."""
    for work in works:
        work()
    times: list[list[float]] = [[] for _work in works]
    for _round in range(ROUNDS):
        for work, taken in zip(works, times, strict=True):
            begun = process_time()
            work()
            taken.append(process_time() - begun)
    return [1000 * median(taken) for taken in times]


def listed(lines: list[str], pictures: list[bytes], pages: int) -> bytes:
    """The same words and pictures on as many pages, one line of text below the other."""
    buffer = BytesIO()
    canvas = Canvas(buffer, initialFontName="SourceSans3-Regular")
    per_page = -(-len(lines) // pages)
    for page in range(pages):
        canvas.setFont("SourceSans3-Regular", 9)
        for number, line in enumerate(lines[page * per_page : (page + 1) * per_page]):
            canvas.drawString(54, 780 - 9 * number, line)
        for number, picture in enumerate(pictures[page::pages]):
            canvas.drawImage(ImageReader(BytesIO(picture)), 54 + 90 * number, 54, 80, 60)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def two_photos() -> tuple[Job, dict[str, bytes]]:
    """The retrofit with two photographs, and so many leaks that the homeowner gets four pages."""
    job, photos = retrofit()
    leaks = tuple(
        leak.model_copy(
            update={
                "key": f"{leak.key}-{again}",
                "photos": leak.photos[:1] if again == 0 and number < 2 else (),
            }
        )
        for again in range(2)
        for number, leak in enumerate(job.leaks)
    )
    used = {photo.digest: photos[photo.digest] for leak in leaks for photo in leak.photos}
    return job.model_copy(update={"leaks": leaks}), used


def timed(name: str, document: Document, photos: dict[str, bytes]) -> None:
    """Print how long a report takes."""

    def alone() -> None:
        look = look_of(document, photos, load_faces(FONTS))
        print_sheets(document, look, compose(look, document).story)

    whole = BytesIO()
    draw(document, photos, whole)
    pages = len(pages_of(whole.getvalue()))
    lines = [line for text in texts_in(document.blocks) for line in text.split("\n")]
    with TemporaryDirectory() as folder:
        replay = replay_of(whole.getvalue(), Path(folder), FONTS)
        drawn, complete, bare, listing = milliseconds(
            alone,
            lambda: draw(document, photos, BytesIO()),
            replay.draw,
            lambda: listed(lines, list(photos.values()), pages),
        )
    print(
        f"{name}: {pages} pages, {len(photos)} photos; drawing {drawn:.0f} ms, "
        f"finishing {complete - drawn:.0f} ms, whole {complete:.0f} ms; the same pages on a bare "
        f"canvas {bare:.1f} ms ({complete / bare:.2f} times), a list of their words "
        f"{listing:.1f} ms ({complete / listing:.2f} times)"
    )


def main() -> None:
    job, photos = two_photos()
    for kind in KINDS:
        template = read_template(ROOT / "report_templates" / f"{kind}.toml")
        timed(kind, build(template, report_input(job, photos=photos)), photos)
        if kind == "compliance":
            mixed = job.model_copy(update={"comments": MIXED})
            document = build(template, report_input(mixed, photos=photos))
            timed("compliance with a long line of Latin and Chinese letters", document, photos)


if __name__ == "__main__":
    main()
