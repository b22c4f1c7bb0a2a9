"""Life form, plant height and indicator values of the European flora (FloraVeg.EU)."""
