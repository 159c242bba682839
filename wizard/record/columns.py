"""Tables as classes of columns, checked by pydantic's core.

The schemas are given to the core as they are: to have them derived from annotated models would
cost every command without a screen twice its other time, and every screen 3 MiB.
"""

from __future__ import annotations

from collections.abc import Mapping, Set
from typing import Any, ClassVar, NamedTuple, Self, dataclass_transform

from pydantic_core import CoreSchema, SchemaValidator
from pydantic_core import core_schema as cs

_NEEDED = object()


class _Column(NamedTuple):
    schema: CoreSchema
    default: object


def column(schema: CoreSchema, *, default: Any = _NEEDED) -> Any:
    """A column of a table, with what it is where it is left out, if it may be."""
    return _Column(schema, default)


def _field(given: _Column) -> cs.ModelField:
    if given.default is _NEEDED:
        return cs.model_field(given.schema)
    return cs.model_field(cs.with_default_schema(given.schema, default=given.default))


@dataclass_transform(kw_only_default=True, frozen_default=True, field_specifiers=(column,))
class Shape:
    """A table; keys that it does not know are let through and not kept.

    A shape is declared as a class of columns; one that is `closed` lets no other key through.
    Values keep their type: nothing is read as something else. ValidationError where one is made
    of what does not fit.
    """

    __slots__ = (
        "__dict__",
        "__pydantic_extra__",
        "__pydantic_fields_set__",
        "__pydantic_private__",
    )
    columns: ClassVar[Set[str]]
    schema: ClassVar[CoreSchema]
    _validator: ClassVar[SchemaValidator]

    def __init_subclass__(cls, *, closed: bool = False) -> None:
        own = {name: given for name, given in vars(cls).items() if isinstance(given, _Column)}
        for name in own:
            delattr(cls, name)
        fields = {name: _field(given) for name, given in own.items()}
        extra: cs.ExtraBehavior = "forbid" if closed else "ignore"
        config = cs.CoreConfig(strict=True, extra_fields_behavior=extra)
        cls.columns = own.keys()
        table = cs.model_fields_schema(fields, model_name=cls.__name__)
        cls.schema = cs.model_schema(cls, table, config=config)
        cls._validator = SchemaValidator(cls.schema)

    def __init__(self, **given: Any) -> None:
        self._validator.validate_python(given, self_instance=self)

    @classmethod
    def of(cls, table: Mapping[str, Any]) -> Self:
        """The table where it has this shape; ValidationError where it has not."""
        checked: Self = cls._validator.validate_python(table)
        return checked

    def changed(self, **given: Any) -> Self:
        """The same table with other values in these columns."""
        return self.of({**vars(self), **given})

    def plain(self) -> dict[str, Any]:
        """The values of the columns, and of the tables in them."""
        return {name: _plain(value) for name, value in vars(self).items()}

    def __eq__(self, other: object) -> bool:
        return type(self) is type(other) and vars(self) == vars(other)

    __hash__ = None  # type: ignore[assignment]


def _plain(value: Any) -> Any:
    if isinstance(value, Shape):
        return value.plain()
    return [_plain(one) for one in value] if isinstance(value, list | tuple) else value


def rows(shape: type[Shape], most: int) -> CoreSchema:
    """An array of at most so many tables."""
    return cs.list_schema(shape.schema, max_length=most)
