/**
 * What the wintering matrix says of so many days at a temperature. `doubtful`: between a cell that
 * did and one that did not. `untried`: longer than was tried.
 */
export type MatrixVerdict = "suitable" | "doubtful" | "untried" | "unsuitable";

/** What the reserve says: as in a usual winter, more than that, or more than was ever seen to do. */
type ReserveVerdict = "ample" | "thin" | "spent";

const DAYS = [90, 150, 210, 270] as const;

/**
 * Wintering of male Osmia lignaria; true where survival was acceptable. Warmest row last.
 *
 * Source: Bosch J, Kemp WP (2003), Environ. Entomol. 32:711–716, abstract: 10 °C and more is
 * unsuitable even for short periods, at 7 °C mortality rises beyond 150 d, 210 d and more need 4 °C
 * or less; survival is best at 90 d, emergence within five days takes 150 d. That it holds for
 * females or for other species is not shown.
 */
const MATRIX: readonly Readonly<{ atC: number; suits: readonly boolean[] }>[] = [
  { atC: 0, suits: [true, true, true, true] },
  { atC: 4, suits: [true, true, true, true] },
  { atC: 7, suits: [true, true, false, false] },
  { atC: 10, suits: [false, false, false, false] },
  { atC: 13, suits: [false, false, false, false] },
];

/** Days in store below which a verdict on the winter would be one on a warm day; our choice. */
const DAYS_LEAST = 14;
/** The longest that was tried at 4 °C, and did, in days of reserve; derived from the matrix. */
const RESERVE_MOST_DAYS = 270;

// Below 0 °C the coldest row speaks, since frost is another matter; beyond 13 °C the warmest.
const COLDEST = MATRIX[0]!;
const WARMEST = MATRIX[MATRIX.length - 1]!;

const warmerRow = (temperatureC: number): readonly boolean[] =>
  (MATRIX.find(({ atC }) => temperatureC <= atC) ?? WARMEST).suits;

const colderRow = (temperatureC: number): readonly boolean[] =>
  (MATRIX.findLast(({ atC }) => atC <= temperatureC) ?? COLDEST).suits;

/**
 * What the matrix says of a winter so far; null before there is much of one. Total.
 *
 * Between what was tried, it is suitable if the warmer row and the longer column are, and unsuitable
 * if even the colder row and the shorter column are.
 *
 * @param days in cold storage so far
 * @param temperatureC at which the same days, held steady, burn the same reserve, °C
 */
export function matrixVerdict(days: number, temperatureC: number): MatrixVerdict | null {
  if (!(days >= DAYS_LEAST)) return null;
  const shorter = Math.max(
    0,
    DAYS.findLastIndex((tried) => tried <= days),
  );
  if (!colderRow(temperatureC)[shorter]) return "unsuitable";
  const longer = DAYS.findIndex((tried) => days <= tried);
  if (longer < 0) return "untried";
  return warmerRow(temperatureC)[longer] ? "suitable" : "doubtful";
}

/** Days in all for which the matrix still calls this temperature suitable; 0 where none. Total. */
export function matrixDaysMost(temperatureC: number): number {
  const suits = warmerRow(temperatureC);
  return DAYS.findLast((_, column) => suits[column]) ?? 0;
}

/**
 * The steady temperature that burns a reserve in so many days, °C; always at or above the mean
 * of a temperature that swings. Null before any time was seen.
 *
 * Source: the reserve's own rate, Q10 = 2.5 about 4 °C (from memory), solved for temperature.
 */
export function steadyC(days: number, reserveDays: number): number | null {
  if (!(days > 0 && reserveDays > 0)) return null;
  return 4 + (10 * Math.log(reserveDays / days)) / Math.log(2.5);
}

/** What the winter asks of the reserve so far, and which of the two judges is the stricter. */
export type WinterVerdict = Readonly<{
  steadyC: number;
  matrix: MatrixVerdict | null;
  reserve: ReserveVerdict;
  /** The stricter of both, in the words of the digest. */
  verdict: "sound" | "strained" | "harmed";
  speaks: "matrix" | "reserve" | "both";
}>;

const MATRIX_RANK = { suitable: 0, doubtful: 1, untried: 1, unsuitable: 2 } as const;
const RESERVE_RANK = { ample: 0, thin: 1, spent: 2 } as const;
const WORDS = ["sound", "strained", "harmed"] as const;

/**
 * The stricter of matrix and reserve; null before any time was seen. Total.
 *
 * @param days in cold storage so far that were seen
 * @param reserveDays burnt in that time, equivalent days at 4 °C
 * @param usualDays the most days in cold storage that are usual for the species
 */
export function winterVerdict(
  days: number,
  reserveDays: number,
  usualDays: number,
): WinterVerdict | null {
  const steady = steadyC(days, reserveDays);
  if (steady === null) return null;
  // To a thousandth: a sum's last digits must not carry it over a row's edge.
  const matrix = matrixVerdict(days, Math.round(steady * 1_000) / 1_000);
  const most = Math.max(usualDays, RESERVE_MOST_DAYS);
  const reserve = reserveDays <= usualDays ? "ample" : reserveDays <= most ? "thin" : "spent";
  const ofMatrix = matrix === null ? 0 : MATRIX_RANK[matrix];
  const ofReserve = RESERVE_RANK[reserve];
  const speaks = ofMatrix === ofReserve ? "both" : ofMatrix > ofReserve ? "matrix" : "reserve";
  const verdict = WORDS[Math.max(ofMatrix, ofReserve)]!;
  return { steadyC: steady, matrix, reserve, verdict, speaks };
}
