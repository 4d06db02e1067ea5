"""The condensate of the hourly design day for drainage layers of any permeance, for the calculation that sets a limit."""

from __future__ import annotations

from dataclasses import dataclass, replace

from specgen.arrays import ArrayLike, np
from specgen.design.drive_study import Climate, Hours, ParapetWall, drive
from specgen.design.drive_walls import walls
from specgen.design.inward_drive import setting
from specgen.design.vapor_layers import read_layers
from specgen.design.worksheet import Worksheet
from specgen.physics.steady import resistance_from_permeance

FINEST = 1.002  # ratio of two permeances tried
RANGE = (
    1.1e-15,
    1e-6,
)  # kg/(m²·s·Pa): from metal foil to an open layer, within the range of the hourly study


@dataclass(frozen=True)
class DriveDay:
    """The wall as specified, the hours of the day and the film [W/(m²·K)]."""

    wall: ParapetWall
    climate: Climate
    film: float

    @property
    def specified(self) -> float:
        """Most condensate of the day as specified [kg/m²]."""
        return float(drive(self.wall, self.climate, self.film, 1.0).condensate.max())

    def condensate(self, permeances: ArrayLike) -> Hours:
        """Most condensate of the day [kg/m²] with a drainage layer of each permeance [kg/(m²·s·Pa)]."""
        tried = np.asarray(resistance_from_permeance(np.atleast_1d(np.asarray(permeances, dtype=np.float64))))
        same = np.ones(tried.size)
        wall = replace(
            self.wall,
            layer_r=self.wall.layer_r * same,
            layer_z=tried,
            layer_depth=self.wall.layer_depth * same,
        )
        return np.asarray(drive(wall, self.climate, self.film, 1.0).condensate.max(axis=0)[:, 0])

    def greatest_permeance(self, limit: float) -> float:
        """The greatest permeance tried that keeps a limit [kg/m²], within 0.2 %; the condensate grows with it."""
        tried = np.geomspace(*RANGE, round(np.log(RANGE[1] / RANGE[0]) / np.log(FINEST)))
        keeps = self.condensate(tried) <= limit
        return float(tried[max(int(keeps.sum()) - 1, 0)])


def drive_day(work: Worksheet) -> DriveDay | None:
    """The design day of a parapet; None where the study has not the data for it. Nothing is written on the sheet."""
    own = Worksheet("", "", work.project, work.parapet, work.practice, "", [])
    with own.writing():
        layers = read_layers(own)
        found = setting(own)
        specified, _ = walls(own, layers)
        return None if own.missing else DriveDay(specified, found.climate, found.sky.film)
    return None
