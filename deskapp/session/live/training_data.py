"""What training draws from: an invented fan, kinds of weather, and bounds of the hidden leakage."""

from __future__ import annotations

import random
import tomllib
from dataclasses import dataclass
from pathlib import Path

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.measured import Measured, si_of
from deskapp.i18n import _
from deskapp.session.live.simulated import SimulatedCase
from deskapp.units.entry import Problem, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle
from deskapp.units.table import SI_UNIT

FILE = Path("live") / "training.toml"
TARGET_PA = 25.0
"""Pressure at which the bounds of the leakage are given [Pa]."""

_SIGNAL_NOISE = 0.01
_LAGS_S = (2.0, 4.0)


@dataclass(frozen=True, slots=True)
class Weather:
    """A kind of weather: gusts, gauge noise and baseline [Pa], gust time [s], drift [Pa/s]."""

    id: str
    gust: float
    gust_time: float
    noise: float
    baseline: float
    drift: float


@dataclass(frozen=True, slots=True)
class Training:
    """What training draws from.

    `flows` bound the leakage at 25 Pa [m3/s], `exponents` its exponent [1]; `largest_flow` is what
    the fan can move [m3/s].
    """

    fan: Fan
    weathers: tuple[Weather, ...]
    flows: tuple[float, float]
    exponents: tuple[float, float]
    largest_flow: float

    def weather(self, weather_id: str) -> Weather:
        """Return the weather with this id; KeyError if there is none."""
        for weather in self.weathers:
            if weather.id == weather_id:
                return weather
        raise KeyError(f"no weather has the id {weather_id}")


def load_training(resources: Path) -> Training | Finding:
    """Read the training data below the folder `resources`; say why if that cannot be."""
    path = resources / FILE
    try:
        return _training(_File.model_validate(tomllib.loads(path.read_text(encoding="utf-8"))))
    except OSError as error:
        why = error.strerror or type(error).__name__
    except ValueError as error:
        why = " ".join(str(error).split())
    return Finding(
        level=Level.CHECK,
        code="training-data",
        what=_("The training data ({file}) cannot be read: {why}.").format(
            file=path.name, why=why.rstrip(".")
        ),
        mend=_("Install the program again, or mend the file."),
    )


def draw_case(
    training: Training, seed: int, weather_id: str = "calm"
) -> tuple[SimulatedCase, Ring]:
    """Draw a hidden duct system, and the ring a person would fit for it; the same for each seed.

    Raises KeyError for an unknown weather.
    """
    chance = random.Random(seed)
    weather = training.weather(weather_id)
    low, high = training.flows
    flow = low * (high / low) ** chance.random()
    exponent = chance.uniform(*training.exponents)
    ring = max(training.fan.rings, key=lambda one: _room(one, flow))
    case = SimulatedCase(
        coefficient=flow / TARGET_PA**exponent,
        exponent=exponent,
        ring_coefficient=si_of(ring.coefficient) or 0.0,
        ring_exponent=si_of(ring.exponent) or 0.0,
        direction=chance.choice((-1, 1)),
        baseline=weather.baseline,
        drift=weather.drift,
        gust=weather.gust,
        gust_time=weather.gust_time,
        noise=weather.noise,
        signal_noise=_SIGNAL_NOISE,
        lag=chance.uniform(*_LAGS_S),
        largest_flow=training.largest_flow,
    )
    return case, ring


def _room(ring: Ring, flow: float) -> float:
    return min(flow / (si_of(ring.flow_low) or 1.0), (si_of(ring.flow_high) or 0.0) / flow)


class _FanRow(Frozen):
    description: str
    calibration_density: str


class _RingRow(Frozen):
    key: str
    flow_low: str
    flow_high: str
    coefficient: str
    exponent: str
    signal_low: str
    signal_high: str


class _HousesRow(Frozen):
    flow_low: str
    flow_high: str
    exponent_low: float = Field(ge=0.5, le=1.0)
    exponent_high: float = Field(ge=0.5, le=1.0)
    largest_flow: str


class _WeatherRow(Frozen):
    id: str
    gust: str
    gust_time: str
    noise: str
    baseline: str
    drift_per_minute: str


class _File(Frozen):
    note: str
    fan: _FanRow
    rings: tuple[_RingRow, ...] = Field(min_length=1)
    houses: _HousesRow
    weather: tuple[_WeatherRow, ...] = Field(min_length=1)


def _training(file: _File) -> Training:
    houses = file.houses
    return Training(
        fan=Fan(
            key="training",
            description=file.fan.description,
            calibration_density=_typed(file.fan.calibration_density, Kind.DENSITY),
            rings=tuple(_ring(row) for row in file.rings),
        ),
        weathers=tuple(_weather(row) for row in file.weather),
        flows=(_si(houses.flow_low, Kind.FLOW), _si(houses.flow_high, Kind.FLOW)),
        exponents=(houses.exponent_low, houses.exponent_high),
        largest_flow=_si(houses.largest_flow, Kind.FLOW),
    )


def _ring(row: _RingRow) -> Ring:
    return Ring(
        key=row.key,
        flow_low=_typed(row.flow_low, Kind.FLOW),
        flow_high=_typed(row.flow_high, Kind.FLOW),
        coefficient=_typed(row.coefficient, Kind.COEFFICIENT),
        exponent=_typed(row.exponent, Kind.NUMBER),
        signal_low=_typed(row.signal_low, Kind.PRESSURE),
        signal_high=_typed(row.signal_high, Kind.PRESSURE),
    )


def _weather(row: _WeatherRow) -> Weather:
    return Weather(
        id=row.id,
        gust=_si(row.gust, Kind.PRESSURE),
        gust_time=_si(row.gust_time, Kind.TIME),
        noise=_si(row.noise, Kind.PRESSURE),
        baseline=_si(row.baseline, Kind.PRESSURE),
        drift=_si(row.drift_per_minute, Kind.PRESSURE) / 60.0,
    )


def _typed(text: str, kind: Kind) -> Measured:
    found = parse(text, kind, SI_UNIT[kind], NumberStyle.POINT)
    if isinstance(found, Problem):
        raise ValueError(found.text)
    return Measured(si=found.si, unit=found.unit, typed=text)


def _si(text: str, kind: Kind) -> float:
    return si_of(_typed(text, kind)) or 0.0
