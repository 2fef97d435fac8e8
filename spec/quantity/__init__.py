"""Quantities: what a person wrote, exact, and how a number is printed.

`parse` reads a text of a known dimension and shape; `show` prints a computed value; `both`
prints what was written with its conversion. Nothing here knows the job file.
"""

from spec.quantity.dimensions import DIMENSIONS, Dimension
from spec.quantity.display import both, show
from spec.quantity.parsing import SHAPES, parse
from spec.quantity.units import UNITS, Unit
from spec.quantity.values import Quantity, QuantityError, Range, Series, Size

__all__ = [
    "DIMENSIONS",
    "SHAPES",
    "UNITS",
    "Dimension",
    "Quantity",
    "QuantityError",
    "Range",
    "Series",
    "Size",
    "Unit",
    "both",
    "parse",
    "show",
]
