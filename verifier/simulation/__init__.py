"""The rules of grammar/REFERENCE.md carried out one concrete state at a time.

Independent of the compiler in verifier.transition: it shares nothing with it but the circuit.
"""
