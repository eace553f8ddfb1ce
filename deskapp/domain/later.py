"""A part of a result that is worked out when somebody first reads it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast, get_args

from pydantic_core import core_schema

from deskapp.i18n import language, speaking
from deskapp.units.display import style_of_sentences, writing

if TYPE_CHECKING:
    from collections.abc import Callable

    from pydantic import GetCoreSchemaHandler

Value = TypeVar("Value")


class Later(Generic[Value]):
    """Something that nobody looks at while readings are typed, such as the lines of arithmetic.

    It follows from frozen records, so that it is the same whenever it is worked out, and it comes
    in the language and the style of numbers that were in use when it was promised. Two of these are
    equal when what they come to is.
    """

    __slots__ = ("_known", "_language", "_style", "_work")

    def __init__(self, work: Callable[[], Value]) -> None:
        """Promise what `work` gives, which must be frozen."""
        self._work = work
        self._language, self._style = language(), style_of_sentences()
        self._known: tuple[Value] | None = None

    @property
    def value(self) -> Value:
        """What it comes to."""
        known = self._known
        if known is None:
            with speaking(self._language), writing(self._style):
                known = self._known = (self._work(),)
        return known[0]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Later):
            return NotImplemented
        return self is other or bool(self.value == cast("Later[Any]", other).value)

    def __hash__(self) -> int:
        return hash(self.value)

    @classmethod
    def __get_pydantic_core_schema__(
        cls, source: Any, handler: GetCoreSchemaHandler
    ) -> core_schema.CoreSchema:
        """Let a record hold one as it is; in a file stands what it comes to."""
        inner = handler.generate_schema(get_args(source)[0])
        known = core_schema.no_info_after_validator_function(_known, inner)
        return core_schema.json_or_python_schema(
            json_schema=known,
            python_schema=core_schema.union_schema([core_schema.is_instance_schema(cls), known]),
            serialization=core_schema.plain_serializer_function_ser_schema(
                _value_of, return_schema=inner
            ),
        )


def _known(value: Any) -> Later[Any]:
    return Later(lambda: value)


def _value_of(later: Later[Any]) -> Any:
    return later.value
