"""Runs in words of the trade: written down, read, carried out by the simulator, and checked."""
