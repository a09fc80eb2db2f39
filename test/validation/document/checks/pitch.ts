/** Pitch deviations and repeatability of the index on worked examples of our own. */
import { pitchDeviations } from '../../../../shared-math/diagnosis/pitch.ts';
import { repeatability } from '../../../../shared-math/diagnosis/repeatability.ts';
import { discDefinition, SEAT } from '../../../support/synthetic-disc.ts';
import { type Chapter, type Check, Checks } from '../check.ts';

const GROUP = 'Pitch and repeatability of the index';

export function pitch(): Chapter {
  return {
    group: GROUP,
    text: `No published example with figures was at hand for either standard, and the definitions are from memory: single pitch deviation = actual
minus theoretical pitch, f_p the largest of them, F_p the range of the cumulative ones (ISO 1328-1); reversal, repeatability, systematic
deviation and accuracy of a rotary axis with the coverage factor 2 (ISO 230-2). The examples are our own: the pitches can be followed in the head, the
repeatability was computed apart from this code (Python). Bounds are rounding, or one unit of the last digit given.`,
    checks: [...pitches(), ...approaches()],
  };
}

function pitches(): readonly Check[] {
  const checks = new Checks(GROUP, 'ISO 1328-1 (definitions: value from memory), own example');
  const deviations = [0, 2, 5, 3, -1, -4, -6, -2];
  // µm at the seat radius.
  const found = pitchDeviations(
    deviations.map((d, k) => ({ station: k + 1, deviation: d / 1000 / SEAT.radius })),
    discDefinition({ stations: 8 }),
  );
  const single = [2, 3, -2, -4, -3, -2, 4, 2];
  found.stations.forEach(({ singlePitch, cumulativePitch }, k) => {
    checks.add('single pitch deviations', 1000 * singlePitch!, single[k]!, 1e-12, 'µm');
    checks.add('cumulative pitch deviations', 1000 * cumulativePitch, deviations[k]!, 1e-12, 'µm');
  });
  checks.add('f_p', 1000 * found.singlePitch!, 4, 1e-12, 'µm');
  checks.add('F_p', 1000 * found.totalCumulativePitch!, 11, 1e-12, 'µm');
  return checks.list;
}

function approaches(): readonly Check[] {
  const checks = new Checks(GROUP, 'ISO 230-2 (definitions: value from memory), own example, recomputed');
  const up = [
    [0.5, 0.3, 0.7, 0.4, 0.6],
    [1.2, 1.0, 1.5, 1.1, 1.2],
    [-0.4, -0.2, -0.5, -0.3, -0.1],
    [0.9, 1.1, 0.8, 1.0, 1.2],
  ];
  const down = [
    [-0.5, -0.6, -0.3, -0.4, -0.7],
    [0.2, 0.1, 0.4, 0.0, 0.3],
    [-1.3, -1.1, -1.4, -1.2, -1.0],
    [0.1, 0.2, -0.1, 0.0, 0.3],
  ];
  const found = repeatability(
    up.map((values, k) => ({ station: k + 1, up: values, down: down[k]! })),
    5,
  )!;
  const rows: readonly (readonly [string, number | null, number, number])[] = [
    ['B', found.reversal, 1, 1e-12],
    ['mean B', found.meanReversal, 0.95, 1e-12],
    ['R↑', found.repeatabilityUp, 0.748331477, 1e-9],
    ['R↓', found.repeatabilityDown, 0.632455532, 1e-9],
    ['R', found.repeatability, 1.690393505, 1e-9],
    ['E↑', found.systematicDeviationUp, 1.5, 1e-12],
    ['E↓', found.systematicDeviationDown, 1.4, 1e-12],
    ['E', found.systematicDeviation, 2.4, 1e-12],
    ['M', found.meanDeviation, 1.45, 1e-12],
    ['A↑', found.accuracyUp, 2.190393505, 1e-9],
    ['A↓', found.accuracyDown, 2.032455532, 1e-9],
    ['A', found.accuracy, 3.090393505, 1e-9],
  ];
  for (const [name, ours, reference, bound] of rows)
    checks.add(name, ours ?? Number.NaN, reference, bound, '″');
  return checks.list;
}
