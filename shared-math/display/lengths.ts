/** Units in which lengths are shown and reported; results themselves hold mm. */

export type LengthUnit = 'mm' | 'µm' | 'inch';

/** How a number of the result is written in a unit. */
export interface Scale {
  /** How many of the unit are in one of the result's: in one mm or one radian. */
  readonly factor: number;
  /** Decimals that are written at least. */
  readonly decimals: number;
}

/**
 * Scale of each unit of length. Their decimals resolve 0.1 µm or less, about a tenth of what a measurement of blades repeats to
 * (common practice, no source); the inch is 25.4 mm exactly [NIST SP 811].
 */
export const lengthScales: Readonly<Record<LengthUnit, Scale>> = {
  mm: { factor: 1, decimals: 4 },
  µm: { factor: 1000, decimals: 1 },
  inch: { factor: 1 / 25.4, decimals: 6 },
};
