"""Places: addresses, parcels, streets and maps, with no idea what a water heater is."""
