"""Hours of daylight."""

import math
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import ArrayLike, NDArray


def daylight_hours(latitude: float, day_of_year: "ArrayLike") -> "NDArray[np.float64]":
    """Hours from sunrise to sunset at a latitude (degrees, south negative) on days of the year, 1 to 366; any shape.

    0 where the sun does not rise and 24 where it does not set. Source: fao-56-daylight in facts/sources.toml.
    """
    import numpy as np

    days = np.asarray(day_of_year, dtype=np.float64)
    declination = 0.409 * np.sin(2 * math.pi * days / 365 - 1.39)
    cosine = np.clip(-math.tan(math.radians(latitude)) * np.tan(declination), -1.0, 1.0)
    return 24 / math.pi * np.arccos(cosine)
