"""Lines of arithmetic in the units a reader uses."""

from __future__ import annotations

from deskapp.domain.result import Step, StepInput
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

IP = Formatter(UnitSystem.IP, NumberStyle.POINT)


def test_that_a_small_length_is_written_in_the_unit_it_is_read_in():
    four_inches = 0.1016
    plain = StepInput(symbol="d", value=four_inches, kind=Kind.LENGTH)
    inches = StepInput(symbol="d", value=four_inches, kind=Kind.LENGTH, unit="in")
    step = Step(label="Hole", inputs=(plain, inches))
    assert step.numbers_in(IP).replace("\N{NO-BREAK SPACE}", " ") == "d = 0.3333 ft, d = 4 in."
