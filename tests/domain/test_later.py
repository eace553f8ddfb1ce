"""What is worked out when first read: once, equal, in the language of its day, kept in files."""

from __future__ import annotations

from deskapp.domain.later import Later
from deskapp.domain.result import StepInput, TestResult
from deskapp.domain.step import Step
from deskapp.i18n import language, speaking
from deskapp.units.kinds import Kind

LINE = Step(label="Mean", inputs=(StepInput(symbol="Q", value=1.5, kind=Kind.FLOW),), value=1.5)


def test_that_nothing_is_worked_out_before_it_is_read_and_then_once() -> None:
    calls: list[int] = []

    def work() -> int:
        calls.append(1)
        return 7

    later = Later(work)
    assert not calls
    assert (later.value, later.value, len(calls)) == (7, 7, 1)


def test_that_it_comes_in_the_language_spoken_when_it_was_promised() -> None:
    with speaking("es"):
        later = Later(language)
    assert later.value == "es"
    assert language() == "en"


def test_that_two_are_equal_when_what_they_come_to_is() -> None:
    one, same, other = (Later(lambda n=n: (n,)) for n in (1, 1, 2))
    assert one == same
    assert hash(one) == hash(same)
    assert one != other
    assert one != (1,)


def test_that_a_result_is_written_out_with_its_lines_and_read_back() -> None:
    result = TestResult(test="t1", system="s1").model_copy(update={"trace": Later(lambda: (LINE,))})
    assert result.steps == (LINE,)
    assert result.model_dump()["steps"][0]["label"] == "Mean"
    again = TestResult.model_validate_json(result.model_dump_json())
    assert again.steps == (LINE,)
    assert again == result
    assert TestResult.model_validate(result.model_dump()) == result
