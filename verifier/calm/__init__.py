"""Circuits worked calmly: what stands where, and what shows, once all is at rest.

One thing is done at a time, and kept so until nothing moves any more. What a circuit with faults in
it can come to is found as the set of all its states at rest, whatever moves first.
"""
