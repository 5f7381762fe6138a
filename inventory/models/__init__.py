"""The yarn room: yarns as their labels describe them, the packages on the shelf, and every move of yarn."""

from inventory.models.moves import Move, SetAside
from inventory.models.packages import Package
from inventory.models.yarns import ColourFamily, Fibre, Yarn

__all__ = ["ColourFamily", "Fibre", "Move", "Package", "SetAside", "Yarn"]
