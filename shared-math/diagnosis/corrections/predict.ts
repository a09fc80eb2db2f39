/** The stations of this disc as they would have been with other settings, judged by the rule of the plan. */
import type { PartDefinition } from '../../definition.ts';
import { ERRORS } from '../../pose/error-names.ts';
import type { StationResult } from '../../result.ts';
import { rejudgeStation, rejudging } from '../../stations/rejudge-station.ts';
import type { Vec6 } from '../findings.ts';
import type { Blade } from './blades.ts';
import type { Correction } from './correction.ts';
import { motionBySettings } from './setting-motion.ts';
import type { Unknown } from './settings.ts';

/** mm: the last digit of µm that the predicted table shows. */
const SHOWN = 1e-4;

/** The stations as they would have been judged with other settings. @param values of the unknowns, in their order; mm or rad. */
export function predictStations(
  blades: readonly Blade[],
  definition: PartDefinition,
  unknowns: readonly Unknown[],
  values: Float64Array,
): readonly StationResult[] {
  return blades.map((blade) => {
    const changed = unknowns.some((u, p) => values[p] !== 0 && u.moves(blade));
    const motion = changed ? motionBySettings(blade, unknowns, values) : null;
    // Not null: blades are stations whose six errors were observed.
    return motion === null
      ? blade.measured
      : rejudgeStation(blade.measured, {
          ...rejudging(definition, blade.definition, motion),
          bounds: 'blade',
          resolution: SHOWN,
        })!;
  });
}

/** What a correction states of a predicted station. */
export function predictedRow({
  station,
  error,
  position,
  verdict,
}: StationResult): Correction['predicted'][number] {
  const { value, at, expanded, probability } = position;
  return {
    station,
    error: ERRORS.map((name) => error[name]!) as unknown as Vec6,
    position: value,
    at,
    expanded,
    probability,
    verdict,
  };
}
