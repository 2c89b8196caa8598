"""Answers as pages: one file each, nothing fetched, complete without scripts."""
