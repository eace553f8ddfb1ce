"""How long a report takes, warm: building aside, drawn, finished, and against a bare canvas.

Run it from the top of the source tree: ``PYTHONPATH=. python tests/report/bench_report.py``.
The goal is 150 ms for four pages with two photographs. The bare canvas puts the same words and
pictures on as many pages without any layout: it shows what layout, tags and finishing cost.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from statistics import median
from time import process_time

sys.path.insert(0, str(Path(__file__).parent))

from report_jobs import ROOT, report_input, retrofit
from report_text import pages_of, texts_in
from reportlab.lib.utils import ImageReader
from reportlab.pdfgen.canvas import Canvas

from deskapp.report.build.document import build
from deskapp.report.pdf.compose import compose
from deskapp.report.pdf.draw import draw
from deskapp.report.pdf.faces import load_faces
from deskapp.report.pdf.look import look_of
from deskapp.report.pdf.sheet import print_sheets
from deskapp.report.template import read_template

ROUNDS = 9
FONTS = ROOT / "resources" / "fonts"


def milliseconds(work: Callable[[], object]) -> float:
    """The median processor time of `work`, after one round to warm up."""
    work()
    times: list[float] = []
    for _round in range(ROUNDS):
        begun = process_time()
        work()
        times.append(process_time() - begun)
    return 1000 * median(times)


def bare(lines: list[str], pictures: list[bytes], pages: int) -> bytes:
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


def main() -> None:
    job, photos = retrofit()
    leaks = tuple(
        leak.model_copy(update={"photos": leak.photos[:1] if number < 2 else ()})
        for number, leak in enumerate(job.leaks)
    )
    job = job.model_copy(update={"leaks": leaks})
    used = {photo.digest: photos[photo.digest] for leak in leaks for photo in leak.photos}
    for kind in ("homeowner", "compliance", "technical"):
        template = read_template(ROOT / "report_templates" / f"{kind}.toml")
        document = build(template, report_input(job, photos=used))

        def drawn(document=document) -> None:
            look = look_of(document, used, load_faces(FONTS))
            print_sheets(document, look, compose(look, document).story, BytesIO())

        whole = BytesIO()
        draw(document, used, whole)
        pages = len(pages_of(whole.getvalue()))
        lines = [line for text in texts_in(document.blocks) for line in text.split("\n")]
        alone = milliseconds(drawn)
        complete = milliseconds(lambda document=document: draw(document, used, BytesIO()))
        canvas = milliseconds(
            lambda lines=lines, pages=pages: bare(lines, list(used.values()), pages)
        )
        print(
            f"{kind}: {pages} pages, {len(used)} photos; drawing {alone:.0f} ms, "
            f"finishing {complete - alone:.0f} ms, whole {complete:.0f} ms, "
            f"bare canvas {canvas:.0f} ms ({complete / canvas:.1f} times)"
        )


if __name__ == "__main__":
    main()
