"""What conducts and stores heat: concrete, wood, stone, foam, framed walls, and the ground with its band."""

from foundation.materials.ground import soil_band, soil_of
from foundation.materials.solids import CONCRETE, STONE, WOOD, foam_material, framed_wall

__all__ = ["CONCRETE", "STONE", "WOOD", "foam_material", "framed_wall", "soil_band", "soil_of"]
