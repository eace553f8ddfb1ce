"""Do the ranges of each ring run from low to high?"""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain import paths
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

_RANGES = (("flow_low", "flow_high", Kind.FLOW), ("signal_low", "signal_high", Kind.PRESSURE))


def check(job: Job) -> Iterator[Finding]:
    """Yield each range of a ring whose low end lies above its high end."""
    for at, fan in enumerate(job.fans):
        for row in range(len(fan.rings)):
            ring = f"fans.{at}.rings.{row}"
            for low_name, high_name, kind in _RANGES:
                low: Measured | None = paths.get(job, f"{ring}.{low_name}")
                high: Measured | None = paths.get(job, f"{ring}.{high_name}")
                if low is None or low.si is None or high is None or high.si is None:
                    continue
                if low.si > high.si:
                    yield _turned(f"{ring}.{low_name}", f"{ring}.{high_name}", (low, high), kind)


def _turned(low_path: str, high_path: str, ends: tuple[Measured, Measured], kind: Kind) -> Finding:
    low, high = (one.typed or in_sentences().show(kind, one.si or 0.0) for one in ends)
    names = {
        "label": label_of(low_path),
        "low": _(field_at(low_path).label),
        "high": _(field_at(high_path).label),
    }
    return Finding(
        level=Level.STOP,
        code="range_turned",
        path=low_path,
        what=_("{label}: “{typed}” lies above “{other}” under {high}.").format(
            **names, typed=low, other=high
        ),
        allowed=_("“{low}” may be at most “{high}”.").format(**names),
        mend=_("Exchange the two, or compare them with the calibration certificate."),
    )
