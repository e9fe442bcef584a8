import { describe, expect, test } from "vitest";
import { fitLevel } from "../../rules/checks/straight-line.js";

/*
 * NIST/ITL Statistical Reference Datasets, univariate summary statistics (public domain):
 * https://www.itl.nist.gov/div898/strd/univ/homepage.html
 */
const LEW = [
  -213, -564, -35, -15, 141, 115, -420, -360, 203, -338, -431, 194, -220, -513, 154, -125, -559, 92,
  -21, -579, -52, 99, -543, -175, 162, -457, -346, 204, -300, -474, 164, -107, -572, -8, 83, -541,
  -224, 180, -420, -374, 201, -236, -531, 83, 27, -564, -112, 131, -507, -254, 199, -311, -495, 143,
  -46, -579, -90, 136, -472, -338, 202, -287, -477, 169, -124, -568, 17, 48, -568, -135, 162, -430,
  -422, 172, -74, -577, -13, 92, -534, -243, 194, -355, -465, 156, -81, -578, -64, 139, -449, -384,
  193, -198, -538, 110, -44, -577, -6, 66, -552, -164, 161, -460, -344, 205, -281, -504, 134, -28,
  -576, -118, 156, -437, -381, 200, -220, -540, 83, 11, -568, -160, 172, -414, -408, 188, -125,
  -572, -32, 139, -492, -321, 205, -262, -504, 142, -83, -574, 0, 48, -571, -106, 137, -501, -266,
  190, -391, -406, 194, -186, -553, 83, -13, -577, -49, 103, -515, -280, 201, 300, -506, 131, -45,
  -578, -80, 138, -462, -361, 201, -211, -554, 32, 74, -533, -235, 187, -372, -442, 182, -147, -566,
  25, 68, -535, -244, 194, -351, -463, 174, -125, -570, 15, 72, -550, -190, 172, -424, -385, 198,
  -218, -536, 96,
];
const LOTTERY = [
  162, 671, 933, 414, 788, 730, 817, 33, 536, 875, 670, 236, 473, 167, 877, 980, 316, 950, 456, 92,
  517, 557, 956, 954, 104, 178, 794, 278, 147, 773, 437, 435, 502, 610, 582, 780, 689, 562, 964,
  791, 28, 97, 848, 281, 858, 538, 660, 972, 671, 613, 867, 448, 738, 966, 139, 636, 847, 659, 754,
  243, 122, 455, 195, 968, 793, 59, 730, 361, 574, 522, 97, 762, 431, 158, 429, 414, 22, 629, 788,
  999, 187, 215, 810, 782, 47, 34, 108, 986, 25, 644, 829, 630, 315, 567, 919, 331, 207, 412, 242,
  607, 668, 944, 749, 168, 864, 442, 533, 805, 372, 63, 458, 777, 416, 340, 436, 140, 919, 350, 510,
  572, 905, 900, 85, 389, 473, 758, 444, 169, 625, 692, 140, 897, 672, 288, 312, 860, 724, 226, 884,
  508, 976, 741, 476, 417, 831, 15, 318, 432, 241, 114, 799, 955, 833, 358, 935, 146, 630, 830, 440,
  642, 356, 373, 271, 715, 367, 393, 190, 669, 8, 861, 108, 795, 269, 590, 326, 866, 64, 523, 862,
  840, 219, 382, 998, 4, 628, 305, 747, 247, 34, 747, 729, 645, 856, 974, 24, 568, 24, 694, 608,
  480, 410, 729, 947, 293, 53, 930, 223, 203, 677, 227, 62, 455, 387, 318, 562, 242, 428, 968,
];

/** The constructed sets: one value, then two others in turn, 1,001 in all. */
const constructed = (first: number, low: number, high: number): number[] => [
  first,
  ...Array.from({ length: 500 }, () => [low, high]).flat(),
];

type Case = Readonly<{ values: readonly number[]; mean: number; sd: number; sdRelative: number }>;

/** Certified values. The last figure is what the decimals of the data themselves cost a double. */
const CASES: Readonly<Record<string, Case>> = {
  Lew: { values: LEW, mean: -177.435, sd: 277.332168044316, sdRelative: 1e-13 },
  Lottery: { values: LOTTERY, mean: 518.95871559633, sd: 291.699727470969, sdRelative: 1e-13 },
  NumAcc1: { values: [10000001, 10000003, 10000002], mean: 10000002, sd: 1, sdRelative: 1e-13 },
  NumAcc2: { values: constructed(1.2, 1.1, 1.3), mean: 1.2, sd: 0.1, sdRelative: 1e-10 },
  NumAcc3: {
    values: constructed(1000000.2, 1000000.1, 1000000.3),
    mean: 1000000.2,
    sd: 0.1,
    sdRelative: 1e-8,
  },
  NumAcc4: {
    values: constructed(10000000.2, 10000000.1, 10000000.3),
    mean: 10000000.2,
    sd: 0.1,
    sdRelative: 1e-7,
  },
};

describe("mean and deviation of a level are the certified ones", () => {
  test.each(Object.entries(CASES))("%s", (_name, { values, mean, sd, sdRelative }) => {
    const level = fitLevel(values.map((y) => ({ x: 0, y })));
    expect(Math.abs(level.atPivot / mean - 1)).toBeLessThan(1e-14);
    expect(Math.abs(level.residualSd / sd - 1)).toBeLessThan(sdRelative);
    expect(level.atPivotSd).toBeCloseTo(level.residualSd / Math.sqrt(values.length), 12);
  });
});
