"""Money over the years: life-cycle factors, fuels, and the thickness that pays where only air is outside."""
