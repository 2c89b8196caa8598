"""What a change made of a design: which parts are still the same, and what differs."""
