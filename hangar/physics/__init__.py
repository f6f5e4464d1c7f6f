"""Pure functions on numbers: air, surfaces, rotors, linkages, servos, packs, wires and networks."""
