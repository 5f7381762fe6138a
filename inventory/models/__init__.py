"""The yarn room: yarns as their labels describe them, the packages on the shelf, and every move of yarn."""

from inventory.models.arrivals import Arrival, PackagePhoto, Photo, Stamp, Tare, TareWeighing
from inventory.models.files import FileSent
from inventory.models.moves import Move, SetAside
from inventory.models.packages import Package
from inventory.models.yarns import ColourFamily, Fibre, Yarn

__all__ = [
    "Arrival",
    "ColourFamily",
    "Fibre",
    "FileSent",
    "Move",
    "Package",
    "PackagePhoto",
    "Photo",
    "SetAside",
    "Stamp",
    "Tare",
    "TareWeighing",
    "Yarn",
]
