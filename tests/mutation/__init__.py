"""Whether the tests would notice a fault: the code is changed in one small place, and a test of it must fail.

``python -m tests.mutation`` tries a seeded sample of such mutants in each area and lists those that nobody noticed.
"""
