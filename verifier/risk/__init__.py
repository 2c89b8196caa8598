"""From cut sets and rates of faults to probabilities, importance, and what ISO 13849-1 asks."""
