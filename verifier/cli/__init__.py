"""The command line: arguments, files and exit statuses. Answers come from verifier.studies."""

from __future__ import annotations

from verifier.cli.main import main

__all__ = ["main"]
