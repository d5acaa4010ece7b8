"""Where the files that travel with PackDesk are, in an installed copy and in a checkout."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent
_CHECKOUT = _PACKAGE.parent


class ShippedFileMissing(FileNotFoundError):
    """A file that belongs to PackDesk itself is not where any copy of it keeps it."""


def shipped(*parts: str) -> Path:
    """Where the shipped file or folder named by `parts` is, such as `("catalog", "foods.toml")`.

    An installed copy keeps its files inside the package; a checkout keeps them in `resources`
    beside it, and its sample sessions in `sample_sessions`. Raises `ShippedFileMissing`, naming
    the places looked in, when neither has it.
    """
    places = _places(parts, _PACKAGE / "shipped", _CHECKOUT)
    for place in places:
        if place.exists():
            return place
    raise ShippedFileMissing(
        f"PackDesk's own file {'/'.join(parts)} is missing. Looked for "
        + " and ".join(str(place) for place in places)
        + ". Install PackDesk again to bring it back."
    )


def _places(parts: tuple[str, ...], installed: Path, checkout: Path) -> tuple[Path, Path]:
    beside = checkout if parts[:1] == ("sample_sessions",) else checkout / "resources"
    return installed.joinpath(*parts), beside.joinpath(*parts)
