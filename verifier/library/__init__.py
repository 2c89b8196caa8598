"""Libraries of approved designs: who approved what, and whether it still stands."""
