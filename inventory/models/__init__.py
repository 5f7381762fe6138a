"""The yarn room: yarns as their labels describe them, the packages on the shelf, and every move of yarn."""

from inventory.models.moves import Move, SetAside
from inventory.models.packages import Package
from inventory.models.yarns import Fibre, Yarn

__all__ = ["Fibre", "Move", "Package", "SetAside", "Yarn"]
