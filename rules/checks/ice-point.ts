/**
 * Melting ice in water that holds air, at the pressure of the air, °C.
 *
 * Source: ASTM E563 (scope): 0 °C, from which height and weather move it by millikelvins.
 */
export const ICE_POINT_C = 0;

/**
 * Standard uncertainty of a slush bath made at home, K; our choice.
 *
 * Careful baths do far better: tens of mK at 100 mm of immersion, one mK at 300 mm (BIPM,
 * Techniques for Approximating the ITS-90). Ice from a tap is not pure, and a short probe is not
 * that deep in it.
 */
export const ICE_POINT_STANDARD_K = 0.05;
