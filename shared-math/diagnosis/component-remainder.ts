/** What the causes leave: the outliers, and the scatter against the uncertainty of each blade's own points. */
import { clipped, largestPosition, toStations, worstDisplacements } from './component-size.ts';
import type { Outlier } from './findings.ts';
import { estimate } from './inference.ts';
import { displacementGradient, type Observation } from './observations.ts';
import { residualsOf, type Separation } from './separation.ts';
import { form } from './symmetric.ts';
import * as words from './words.ts';

/** Size, place, effect of the stations set apart; null where there are none. */
export function outlierPart(s: Separation, outliers: readonly Outlier[], coverage: number) {
  const residuals = residualsOf(s);
  const at = outliers.map((o) => s.observations.findIndex((x) => x.station === o.station));
  if (at.length === 0) return null;
  return remainder(
    at.map((k) => s.observations[k]!),
    at.map((k) => residuals[k]!),
    coverage,
  );
}

/** What remains at some stations, with the uncertainty of their own points. */
function remainder(
  observations: readonly Observation[],
  errors: readonly (readonly number[])[],
  coverage: number,
) {
  const worst = worstDisplacements(observations, errors);
  const largest = worst.reduce((a, b) => (b.length > a.length ? b : a));
  const { index, checkPoint, displacement: d, length } = largest;
  const o = observations[index]!;
  const n = length > 0 ? ([d[0] / length, d[1] / length, d[2] / length] as const) : ([1, 0, 0] as const);
  const g = displacementGradient(n, checkPoint.at);
  const size = estimate(
    { value: length, variance: form(g, o.own, g), degreesOfFreedom: Number.POSITIVE_INFINITY },
    coverage,
    2,
  );
  return {
    size: clipped(size, true),
    at: { station: o.station, checkPoint: checkPoint.name },
    rms: 2 * Math.sqrt(worst.reduce((sum, w) => sum + w.length ** 2, 0) / worst.length),
    consumed: largestPosition(observations, errors),
    parameters: [],
    stations: toStations(observations, errors),
  };
}

/** Size, place, effect of what no cause explains, and its sentence (marked, see figures.ts). */
export function scatterPart(s: Separation, coverage: number) {
  const kept = s.observations.flatMap((_, k) => (s.counts[k] ? [k] : []));
  const residuals = residualsOf(s);
  const part = remainder(
    kept.map((k) => s.observations[k]!),
    kept.map((k) => residuals[k]!),
    coverage,
  );
  const largest = kept.find((k) => s.observations[k]!.station === part.at.station)!;
  const measured = kept.map((k) => measurementAt(s.observations[k]!, residuals[k]!));
  const alone = words.micrometres(measurementAt(s.observations[largest]!, residuals[largest]!));
  const everywhere = Math.sqrt(measured.reduce((sum, u) => sum + u * u, 0) / measured.length);
  return {
    ...part,
    sentence: `What no cause explains moves check point ${part.at.checkPoint} of station ${part.at.station} by ${words.micrometres(part.size.value / 2)}, and the blades by ${words.micrometres(part.rms / 2)} r.m.s.; the uncertainty of their own points alone makes ${alone} there and ${words.micrometres(everywhere)} r.m.s.`,
  };
}

/** Root mean square displacement (mm) that the own points of a station leave open at the check point that moves most. */
function measurementAt(o: Observation, error: readonly number[]): number {
  const { checkPoint } = worstDisplacements([o], [error])[0]!;
  const variances = AXES.map((n) => {
    const g = displacementGradient(n, checkPoint.at);
    return form(g, o.own, g);
  });
  return Math.sqrt(variances.reduce((sum, v) => sum + v, 0));
}

const AXES = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
] as const;
