"""How long 1,000 jobs take to be listed, and the photos of one to be looked for in the others.

Run it by hand: ``python tests/session/bench_jobs.py [jobs]``. The jobs are copies of the samples.
"""

from __future__ import annotations

import hashlib
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder
from deskapp.domain.leak import Photo
from deskapp.session.job_index import CACHE_NAME, JobIndex
from deskapp.session.job_line import matching
from deskapp.session.photo_index import PhotoIndex
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences


def listed(folder: Path, cache: Path) -> tuple[float, float, JobIndex]:
    """Return seconds until the names are listed, and until all is read."""
    index = JobIndex(cache, Preferences(), Shelf())
    begin = time.perf_counter()
    index.look((folder,))
    named = time.perf_counter() - begin
    while index.read_some(0.1):
        pass
    return named, time.perf_counter() - begin, index


def main() -> None:
    """Write the jobs, list them twice, search them, and print how long each took."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    samples = sorted((resources_folder() / "sample_jobs").iterdir())
    jobs = [job_file.read(path).job for path in samples if path.is_dir()]
    with TemporaryDirectory() as place:
        folder = Path(place) / "jobs"
        folder.mkdir()
        for number in range(count):
            photos = tuple(Photo(digest=_digest(n), original=_digest(-n)) for n in _numbers(number))
            facts = {"number": f"J-{number:04}", "photos": photos}
            job = jobs[number % len(jobs)].model_copy(update=facts)
            job_file.write(folder / f"{number:04}.ductjob", job, {})
        cache = Path(place) / CACHE_NAME
        for words in ("without a cache", "with the cache"):
            named, whole, index = listed(folder, cache)
            print(
                f"{count} jobs {words:16} names {named * 1000:6.0f} ms, all {whole * 1000:7.0f} ms"
            )
        begin = time.perf_counter()
        found = len(matching(index.lines, "larkspur j-00"))
        print(f"search: {found} found in {(time.perf_counter() - begin) * 1000:.1f} ms")
        begin = time.perf_counter()
        photos = PhotoIndex(index.lines)
        made = time.perf_counter()
        found = len(photos.findings(job, folder / f"{count - 1:04}.ductjob"))
        asked = time.perf_counter()
        print(
            f"photos: index made in {(made - begin) * 1000:.1f} ms, "
            f"{found} found in other jobs in {(asked - made) * 1000:.2f} ms"
        )


def _numbers(job: int) -> range:
    """Return the numbers of ten photos; two of them are in the next job too."""
    return range(1 + job * 8, 11 + job * 8)


def _digest(number: int) -> str:
    return hashlib.sha256(str(number).encode()).hexdigest()


if __name__ == "__main__":
    main()
