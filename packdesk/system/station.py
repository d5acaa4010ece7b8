"""Which installation is this?"""

from __future__ import annotations

import contextlib
import os
import uuid
from collections.abc import Callable
from pathlib import Path
from uuid import UUID

from packdesk.desk.ports import Trouble

FILE_NAME = "station"


def station_identity(config: Path, new: Callable[[], UUID] = uuid.uuid4) -> UUID:
    """This installation's identity: made at the first start and kept in the folder `config`.

    Of two programs that start for the first time at once, both answer the same identity. A
    file that was damaged is put aside, and the installation counts as a new station; what the
    old one recorded stays under the old identity. Raises `Trouble` when the file cannot be
    read or written.
    """
    file = config / FILE_NAME
    try:
        kept = _kept(file)
        if kept is None:
            if file.exists():
                os.replace(file, file.with_suffix(".damaged"))
            kept = _keep(file, new())
    except OSError as fault:
        raise Trouble(
            f"This station's identity in {file} cannot be kept: {fault.strerror or fault}.",
            "Make the folder writable, then start PackDesk again.",
        ) from fault
    return kept


def renew_station(config: Path) -> None:
    """Put this installation's identity aside, so that the next start counts as a new station.

    Needed where an older record book takes the place of a newer one: the numbers this station
    gave since the copy may be in use on other computers. Raises `Trouble` when it cannot.
    """
    file = config / FILE_NAME
    try:
        os.replace(file, file.with_suffix(".former"))
    except FileNotFoundError:
        return
    except OSError as fault:
        raise Trouble(
            f"This station's identity in {file} cannot be renewed: {fault.strerror or fault}.",
            "Make the folder writable, then restore again.",
        ) from fault


def _kept(file: Path) -> UUID | None:
    try:
        return UUID(file.read_text("ascii").strip())
    except FileNotFoundError:
        return None
    except ValueError:  # covers text that is not ASCII
        return None


def _keep(file: Path, identity: UUID) -> UUID:
    """Write the whole file or nothing; where another program was quicker, its answer holds."""
    draft = file.with_suffix(f".{os.getpid()}.new")
    try:
        with draft.open("w", encoding="ascii") as writing:
            writing.write(f"{identity}\n")
            writing.flush()
            os.fsync(writing.fileno())
        try:
            os.link(draft, file)
        except FileExistsError:
            return _kept(file) or identity
        except OSError:  # a file system without links, such as a stick's
            os.replace(draft, file)
    finally:
        draft.unlink(missing_ok=True)
    _settle(file.parent)
    return identity


def _settle(folder: Path) -> None:
    """Ask the disk to keep the folder's new entry; not every system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
