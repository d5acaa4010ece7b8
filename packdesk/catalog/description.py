"""What every entry of the catalogue has in common: a key, a name, figures that carry a source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, fields

from packdesk.catalog.figures import Figure


@dataclass(frozen=True)
class KeyOf:
    """Marks a field that holds the key of another thing on the shelf."""

    kind: type[Description]


@dataclass(frozen=True, kw_only=True)
class Description:
    """One thing on the shelf; `key` is how files refer to it, `name` how people do."""

    key: str
    name: str

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together, each as the rest of a sentence."""
        return ()

    def figures(self) -> Iterator[tuple[str, Figure]]:
        """Every figure of this entry with the name of its field."""
        for field in fields(self):
            value = getattr(self, field.name)
            for each in value if isinstance(value, tuple) else (value,):
                if isinstance(each, Figure):
                    yield field.name, each
