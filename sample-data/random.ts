/** Seeded random numbers, so that the sample discs come out the same on every run and every machine. */

export interface Random {
  /** Uniform in [0, 1). */
  uniform(): number;
  /** Standard normal. */
  normal(): number;
}

/**
 * A small generator with 32 bits of state (mulberry32, public domain), with Box–Muller for normal numbers.
 * Good enough for a few thousand points of a demonstration; not meant for statistics of rare events.
 */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0;
  let spare: number | null = null;

  function uniform(): number {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  }

  function normal(): number {
    if (spare !== null) {
      const kept = spare;
      spare = null;
      return kept;
    }
    // 1 − uniform lies in (0, 1], so the logarithm is finite.
    const length = Math.sqrt(-2 * Math.log(1 - uniform()));
    const turn = 2 * Math.PI * uniform();
    spare = length * Math.sin(turn);
    return length * Math.cos(turn);
  }

  return { uniform, normal };
}
