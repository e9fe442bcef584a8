/**
 * Warmth that is never suitable for wintering, even briefly, °C.
 *
 * Source: Bosch J, Kemp WP (2003), Environ. Entomol. 32:711–716, male Osmia lignaria; that it holds
 * for other species or for females is not shown.
 */
export const NEVER_SUITABLE_C = 10;
