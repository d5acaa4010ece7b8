"""The bibliography: every work a figure of the catalogue was taken from."""

from __future__ import annotations

from dataclasses import dataclass

from packdesk.catalog.description import Description


@dataclass(frozen=True, kw_only=True)
class Source(Description):
    """One entry of the bibliography; its `name` is the title of the work."""

    author: str = ""
    year: str = ""
    place: str = ""
    """Journal and pages, publisher, or standard number."""
    address: str = ""
    """Where it was read, when that is a public page."""
    seen: bool
    """Whether the figures taken from it were read there; otherwise they are from memory."""

    def contradictions(self) -> tuple[str, ...]:
        """What in this entry cannot be true together."""
        if self.address and not self.seen:
            return ("gives an address but says it was not seen; drop the address or see it",)
        return ()

    @property
    def citation(self) -> str:
        """The source on one line, as a list of references says it."""
        parts = (self.author, self.name, self.place, self.year, self.address)
        return ". ".join(part.rstrip(".") for part in parts if part) + "."
