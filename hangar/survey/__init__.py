"""One aircraft computed: loads, volts, torque, supply, mass and balance."""
