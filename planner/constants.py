"""Constants shared by several layers, each with its source on its line."""

from math import exp, pi

WAVELENGTH_NM = 550.0  # middle of photopic vision; 1.22 lambda/D is then 138.4"/D[mm] (Rayleigh)
ARCSEC_PER_RADIAN = 180.0 * 3600.0 / pi  # definition
LAMBDA_ARCSEC_MM = WAVELENGTH_NM * 1e-6 * ARCSEC_PER_RADIAN  # lambda/D in arcsec for D = 1 mm
SIDEREAL_RATE_ARCSEC_PER_S = 15.0411  # sky's turn at the equator; IERS Conventions 2010, ch. 1
NANOLAMBERT_AT_ZERO_MAG = 34.08 * exp(20.7233)  # of 0 V mag/arcsec^2; Schaefer 1990, eq 17
LIGHT_SPEED_KM_S = 299792.458  # SI definition
AU_KM = 149597870.7  # IAU 2012 resolution B2
MEAN_MOON_DISTANCE_KM = 384400.0  # mean distance, IAU 1964 system of constants
J2000_YEAR = 2000.0  # epoch of ICRS axes
J2000_JD = 2451545.0  # the same as a Julian date, 2000 January 1, 12h TT; definition
# Of Algol: agrees to a quarter of an hour with a filmed minimum of 2016-12-01 and one observed on
# 2022-09-18; elements in public code, no author named. The old General Catalogue's run 3 h early.
ALGOL_EPOCH_HJD = 2457403.333
GAIA_DR3_YEAR = 2016.0  # Gaia Collaboration 2023, A&A 674, A1
