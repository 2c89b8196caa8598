"""Coded mistakes and how they are shown. Imported by every stage; imports nothing of ours."""
