"""Lengths, angles, torque and dial readings as people write them."""
