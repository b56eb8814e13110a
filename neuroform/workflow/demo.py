"""The demonstration clinic: a folder of its own, an invented person, a certificate made on the spot."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path
from typing import Any

from neuroform import shipped
from neuroform.exam import files
from neuroform.exam.examination import Examination
from neuroform.language import N_, _
from neuroform.settings import Places, Settings, Telephone, load, save

FOLDER = "demonstration"
"""Its name below the workplace's own data."""
PASSPHRASE = "ten steps heel to toe"
"""Opens the demonstration's certificates and nothing else; shown where it is asked for."""
EXAMINER = "Noor Castellan"
SUPERVISOR = "Ivo Brandt"
_SIGNING = "signing"


@dataclass(frozen=True, kw_only=True)
class Demo:
    """What the window opens on."""

    places: Places
    settings: Settings
    exam: Examination
    """Half done, as it stands when nothing was drafted yet."""


def open_demo(folder: Path, *, clock: Callable[[], datetime]) -> Demo:
    """Return the demonstration clinic in `folder`, made there where it isn't yet; certificates come apart, later.

    Raises SettingsError when the folder can't be written or its settings not be read.
    """
    places = Places(config=folder, data=folder)
    if not places.settings.exists():
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        save(places.settings, _settings(folder))
    # Paths come from where the folder lies now: it may have been moved.
    settings = replace(load(places.settings), **_signing_paths(folder))
    return Demo(places=places, settings=settings, exam=half_done(clock()))


def certificates_made(folder: Path) -> bool:
    """Tell whether the demonstration can sign already."""
    paths = _signing_paths(folder)
    return paths["certificate"].is_file() and all(path.is_file() for path in paths["authorities"])


def make_certificates(folder: Path, *, clock: Callable[[], datetime]) -> None:
    """Make the authority and the certificates of the demonstration; takes a second or two, so call it from a worker."""
    from neuroform.signing.certificates import make_demo_authority

    place = folder / _SIGNING
    place.mkdir(mode=0o700, parents=True, exist_ok=True)
    names: dict[Any, str] = {"author": EXAMINER, "supervisor": SUPERVISOR}
    make_demo_authority(place, names=names, passphrase=PASSPHRASE, clock=clock)


def _signing_paths(folder: Path) -> dict[str, Any]:
    place = folder / _SIGNING
    return {"certificate": place / "examiner.p12", "authorities": (place / "authority" / "authority.pem",)}


def _settings(folder: Path) -> Settings:
    return Settings(
        clinic_name=_(N_("Demonstration clinic")),
        letterhead=(_(N_("An invented clinic; everyone in it is invented")),),
        telephones=(Telephone(who=_(N_("Stroke team (invented)")), number="0000 000000"),),
        examiner_name=EXAMINER,
        examiner_designation=_(N_("ward doctor")),
        protocol="acute_vertigo",
        **_signing_paths(folder),
    )


def half_done(at: datetime) -> Examination:
    """Return an invented person's examination for vertigo since the morning, left where the next answers decide.

    The head impulse was tested to one side, and what would tell a stroke from an inner ear was not looked at yet.
    """
    exam = files.read(shipped.read_bytes("resources", "demonstration", "exam.json"))
    encounter = exam.encounter.model_copy(update={"examined_at": at.replace(microsecond=0)})
    return exam.model_copy(update={"encounter": encounter})
