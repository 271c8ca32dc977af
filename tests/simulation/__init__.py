"""Simulations with a known truth, run through the warehouse's own models and macros.

`python -m tests.simulation` runs them all and writes docs/simulations.md.
"""
