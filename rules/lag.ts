/**
 * Newton's law of cooling, exact for samples at any spacing: a body that follows its
 * surroundings with one time constant while they move in a straight line from `fromC` to `toC`.
 *
 * @param bodyC the body at the start, °C
 * @param fromC the surroundings at the start, °C
 * @param toC the surroundings at the end, °C
 * @param spanMs time between the two, ms, 0 or more
 * @param lagMs the time constant, ms, above 0
 * @returns the body at the end, °C; never outside the hull of the three temperatures
 *
 * Source: closed form of dy/dt = (x(t) − y)/τ for linear x(t) (textbook).
 */
export function followLinear(
  bodyC: number,
  fromC: number,
  toC: number,
  spanMs: number,
  lagMs: number,
): number {
  if (spanMs <= 0) return bodyC;
  const ratio = spanMs / lagMs;
  const decay = Math.exp(-ratio);
  // How far a straight ramp stays ahead of a body that has settled behind it.
  const trailC = ((toC - fromC) * (1 - decay)) / ratio;
  return toC - trailC + (bodyC - fromC) * decay;
}
