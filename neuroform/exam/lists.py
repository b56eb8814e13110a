"""Lists of words: order carries no meaning, and no word stands twice."""

from collections.abc import Callable
from typing import Annotated, TypeVar

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError
from typing_extensions import TypeAliasType

W = TypeVar("W")


def _once(words: tuple[W, ...]) -> tuple[W, ...]:
    if len(set(words)) != len(words):
        twice = next(word for word in words if words.count(word) > 1)
        raise PydanticCustomError("twice", "each word once; “{word}” stands twice", {"word": str(twice)})
    return words


def alone(word: str) -> Callable[[tuple[str, ...]], tuple[str, ...]]:
    """Return a validator that refuses `word` beside others."""

    def check(words: tuple[str, ...]) -> tuple[str, ...]:
        if word in words and len(words) > 1:
            raise PydanticCustomError("alone", "“{word}” stands alone or not at all", {"word": word})
        return words

    return check


Words = TypeAliasType(
    "Words",
    Annotated[tuple[W, ...], AfterValidator(_once), Field(json_schema_extra={"uniqueItems": True})],
    type_params=(W,),
)
