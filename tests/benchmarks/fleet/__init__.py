"""A library of generated trailers, no two alike, each with the verdict that it must get.

python -m tests.benchmarks.fleet FOLDER [--count N] [--seed N] [--measure]
"""
