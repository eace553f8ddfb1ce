"""How soon long work ends after a person has given it up.

Run it by hand: ``python tests/session/bench_giving_up.py``. Twenty pictures of 12 million pixels
are taken in, and the papers of forty copies of a sample are drawn; each is given up at several
moments. Printed are the milliseconds from then until the work has ended. The goal is 200.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from datetime import date
from io import BytesIO
from pathlib import Path
from shutil import copyfile
from tempfile import TemporaryDirectory
from threading import Event, Timer

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from PIL import Image

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.batch import make_all
from deskapp.session.batch_papers import Batch
from deskapp.session.branding import BrandingFile
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.session.photo_intake import OfferedPicture, take_in_all
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences

GOAL = 200
SIDES = (4000, 3000)
MOMENTS = (0.1, 0.25, 0.5, 0.8, 1.2, 1.7, 2.3, 3.0)
"""When the work is given up, in seconds after its start."""


def ends_after(work: Callable[[], object], give_up: Callable[[], object], moment: float) -> float:
    """Return the ms from giving `work` up at `moment` until it ended; 0 if it was over by then."""
    asked: list[float] = []

    def ask() -> None:
        asked.append(time.perf_counter())
        give_up()

    timer = Timer(moment, ask)
    timer.start()
    work()
    over = time.perf_counter()
    timer.cancel()
    return (over - asked[0]) * 1000 if asked else 0.0


def photos(form: str) -> list[float]:
    """Return what taking in pictures of a format takes to end."""
    buffer = BytesIO()
    small = Image.effect_noise((400, 300), 90).convert("RGB")
    small.resize(SIDES, Image.Resampling.BICUBIC).save(buffer, form)
    data = buffer.getvalue()
    offers = [OfferedPicture(f"{number}", lambda: data) for number in range(20)]

    def once(moment: float) -> float:
        ended = Event()

        def work() -> None:
            take_in_all(offers, Preferences(), is_wanted=lambda: not ended.is_set())

        return ends_after(work, ended.set, moment)

    return [once(moment) for moment in MOMENTS]


def reports(folder: Path) -> list[float]:
    """Return what drawing the papers of many jobs takes to end."""
    shelf = load_shelf(resources_folder(), templates_folder())
    batch = Batch(shelf, Preferences(), BrandingFile(), date(2026, 6, 1))
    read = job_file.read(resources_folder() / "sample_jobs" / "larkspur")
    jobs = [folder / f"{number}.ductjob" for number in range(40)]
    job_file.write(jobs[0], read.job, read.photos)
    for job in jobs[1:]:
        copyfile(jobs[0], job)

    def once(moment: float) -> float:
        out, long = folder / f"out {moment}", LongWork()
        out.mkdir()

        def work() -> None:
            try:
                for _outcome in make_all(jobs, out, batch, work=long):
                    pass
            except GivenUp:
                pass

        return ends_after(work, long.give_up, moment)

    return [once(moment) for moment in MOMENTS]


def main() -> None:
    """Print the ms of each moment, the longest last."""
    with TemporaryDirectory() as folder:
        rows = {
            "photos, JPEG": photos("JPEG"),
            "photos, PNG": photos("PNG"),
            "reports of 40 jobs": reports(Path(folder)),
        }
    for name, times in rows.items():
        told = " ".join(f"{ms:4.0f}" for ms in sorted(times))
        print(f"{name:20} {told}  {'over' if max(times) > GOAL else ''}")


if __name__ == "__main__":
    main()
