"""Rules on corners, ends, steps and joints as the project lists them."""
