"""Rules that the climate or the edition of the code switches on."""
